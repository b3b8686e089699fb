package io.evenwarm.monitor.app;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Moment;
import io.evenwarm.monitor.alarm.AlarmChange;
import io.evenwarm.monitor.alarm.AlarmDesk;
import io.evenwarm.monitor.alarm.EventId;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.monitor.alarm.OperatorAction;
import io.evenwarm.monitor.alert.AlarmStore;
import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;

/**
 * The alarms of an invented past: the monitor's own alarm desk, with an invented keeper before it
 * who comes after some minutes, later at night.
 *
 * <p>An agent that lives is heard of twice a minute there, with what was last seen of its cabinets.
 */
final class PastAlarms {

    /** Who acknowledges there, in the log. */
    static final String KEEPER = "the invented keeper";

    private static final Duration STEP = Duration.ofSeconds(20);

    /** The past shows a living cabinet at least so often. */
    private static final Duration SHOWN_WITHIN = Duration.ofSeconds(130);

    private static final Duration BY_DAY = Duration.ofMinutes(4);
    private static final Duration BY_NIGHT = Duration.ofMinutes(12);
    private static final int DAY_BEGINS = 7;
    private static final int DAY_ENDS = 22;

    private final AgentName agent;
    private final AlarmStore store;
    private final ZoneId zone = ZoneId.systemDefault();
    private final Map<CabinetName, CabinetSnapshot> shown = new LinkedHashMap<>();
    private final TreeMap<Long, EventId> toAcknowledge = new TreeMap<>();
    private final List<AlarmChange> changes = new ArrayList<>();
    private Optional<AlarmDesk> begun = Optional.empty();
    private Now now = new Now(Instant.EPOCH, 0);
    private long shownNanos;

    PastAlarms(AgentName agent, AlarmStore store) {
        this.agent = agent;
        this.store = store;
    }

    /** Time goes on to a moment of the past. */
    void reach(Moment moment) {
        Now until = new Now(moment.wall(), moment.monotonicNanos());
        AlarmDesk desk =
                begun.orElseGet(
                        () -> {
                            now = until;
                            return AlarmDesk.begin(
                                    AlarmPlan.DEFAULT.settings(),
                                    new NewtonTimeLeft(AlarmPlan.DEFAULT.timeLeft()),
                                    Set.of(agent),
                                    until);
                        });
        begun = Optional.of(desk);
        boolean isAlive = until.nanos() - shownNanos <= SHOWN_WITHIN.toNanos();
        while (now.nanos() + STEP.toNanos() < until.nanos()) {
            now = new Now(now.wall().plus(STEP), now.nanos() + STEP.toNanos());
            if (isAlive) {
                shown.values().forEach(snapshot -> changed(desk.received(agent, snapshot, now)));
            }
            changed(desk.tick(now));
            acknowledge(desk);
        }
        now = until;
        changed(desk.tick(now));
    }

    /** A cabinet as it is at the moment that was reached last. */
    void see(CabinetSnapshot snapshot) {
        shownNanos = now.nanos();
        shown.put(snapshot.cabinet(), snapshot);
        begun.ifPresent(desk -> changed(desk.received(agent, snapshot, now)));
    }

    private void changed(List<AlarmChange> some) {
        changes.addAll(some);
        for (AlarmChange change : some) {
            if (change.isAnnunciation() && change.event().isPresent()) {
                int hour = now.wall().atZone(zone).getHour();
                Duration wait = hour >= DAY_BEGINS && hour < DAY_ENDS ? BY_DAY : BY_NIGHT;
                toAcknowledge.put(now.nanos() + wait.toNanos(), change.event().get());
            }
        }
    }

    private void acknowledge(AlarmDesk desk) {
        while (!toAcknowledge.isEmpty() && toAcknowledge.firstKey() <= now.nanos()) {
            EventId event = toAcknowledge.pollFirstEntry().getValue();
            // One that has gone by itself needs nobody any more: that it is refused is no matter.
            desk.act(new OperatorAction.AcknowledgeEvent(event), KEEPER, now)
                    .fold(
                            done -> {
                                changes.addAll(done.changes());
                                return true;
                            },
                            refused -> false);
        }
    }

    /** Adds to the log what came by now. */
    void store() throws IOException {
        store.add(changes);
        changes.clear();
    }
}
