package io.evenwarm.monitor.view;

import io.evenwarm.message.GuardState;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.live.AgentState;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.monitor.view.WindowModel.Commands;
import io.evenwarm.monitor.view.WindowModel.Detail;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/** Makes the window's model of what is known. Pure. */
final class ModelMaker {

    private static final DateTimeFormatter CLOCK =
            DateTimeFormatter.ofPattern("EEE d MMM yyyy, HH:mm:ss", Locale.ENGLISH);

    private final ZoneId zone;

    ModelMaker(ZoneId zone) {
        this.zone = zone;
    }

    WindowModel model(
            ViewState state,
            List<LiveCabinet> live,
            Map<CabinetKey, TimeSpan> known,
            List<AgentState> agents,
            Map<CabinetKey, AlarmsModel.CardAlarm> alarms,
            WindowEggs eggs,
            Instant wall) {
        Map<CabinetKey, CabinetCard> cards = new TreeMap<>();
        CardMaker maker = new CardMaker(state.unit(), wall, zone, eggs);
        live.forEach(cabinet -> cards.put(cabinet.key(), maker.card(cabinet)));
        known.forEach(
                (key, extent) ->
                        cards.computeIfAbsent(key, its -> maker.unheard(its, extent.to())));
        List<CabinetCard> all = new ArrayList<>();
        cards.forEach((key, card) -> all.add(card.withAlarm(Optional.ofNullable(alarms.get(key)))));
        Optional<CabinetKey> chosen = chosen(state, all);
        return new WindowModel(
                all,
                all.stream()
                        .filter(card -> chosen.equals(Optional.of(card.key())))
                        .findFirst()
                        .map(card -> detail(card, live, agents)),
                agents,
                summary(all),
                CLOCK.format(wall.atZone(zone)) + "  " + Words.zone(zone, wall),
                state.unit());
    }

    /** The person's choice while it exists, and the first cabinet otherwise. */
    static Optional<CabinetKey> chosen(ViewState state, List<CabinetCard> cards) {
        return state.selected()
                .filter(key -> cards.stream().anyMatch(card -> card.key().equals(key)))
                .or(() -> cards.stream().findFirst().map(CabinetCard::key));
    }

    private static Detail detail(
            CabinetCard card, List<LiveCabinet> live, List<AgentState> agents) {
        Optional<AgentState> agent =
                agents.stream()
                        .filter(state -> state.agent().equals(card.key().agent()))
                        .findFirst();
        boolean connected = agent.map(AgentState::connected).orElse(false);
        Optional<Commands> commands =
                live.stream()
                        .filter(its -> its.key().equals(card.key()))
                        .filter(its -> connected && its.liveness() != Liveness.LOST)
                        .findFirst()
                        .map(ModelMaker::commands);
        return new Detail(
                card,
                agent.map(AgentState::words).orElse("its agent is not in the settings"),
                commands);
    }

    private static Commands commands(LiveCabinet live) {
        return new Commands(
                live.snapshot().setPoint(),
                live.snapshot().limits(),
                live.snapshot().guard() == GuardState.TRIPPED);
    }

    /** For example {@code 3 cabinets: 1 no contact, 2 holding}; the gravest first. */
    private static String summary(List<CabinetCard> cards) {
        if (cards.isEmpty()) {
            return "No cabinets yet";
        }
        Map<CardState, Integer> counts = new EnumMap<>(CardState.class);
        cards.forEach(card -> counts.merge(card.state(), 1, Integer::sum));
        StringBuilder text = new StringBuilder();
        text.append(cards.size()).append(cards.size() == 1 ? " cabinet: " : " cabinets: ");
        String[] between = {""};
        counts.keySet().stream()
                .sorted(Comparator.reverseOrder())
                .forEach(
                        state -> {
                            text.append(between[0]).append(counts.get(state)).append(' ');
                            text.append(state.words().toLowerCase(Locale.ROOT));
                            between[0] = ", ";
                        });
        return text.toString();
    }
}
