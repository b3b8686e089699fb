package io.evenwarm.monitor.web;

import io.evenwarm.monitor.alarm.WithoutHeat;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.view.InventedCabinets;
import io.evenwarm.quantity.Temperature;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Supplier;

/** Two invented alarms, and who acknowledged them. */
final class InventedAlarms implements PageAlarms {

    final List<String> acknowledged = new CopyOnWriteArrayList<>();
    private final Supplier<Instant> now;

    InventedAlarms(Supplier<Instant> now) {
        this.now = now;
    }

    @Override
    public List<OpenAlarm> open() {
        return List.of(
                alarm(
                        "42",
                        InventedCabinets.Story.TRIPPED,
                        "Cut-off tripped <b>",
                        "top 33.6 °C, cut-off at 33.5 °C; heater off, cut-off relay open.",
                        "Look whether the heater's relay is stuck; then reset at the cabinet."),
                alarm(
                        "43",
                        InventedCabinets.Story.LOST,
                        "Nothing heard",
                        "The last reading is 3 hours old.",
                        "Look whether the room has mains, then the agent and the network."));
    }

    /** A model knows the calm cabinet and the stale one, the lost one's eggs had two hours. */
    @Override
    public Optional<WithoutHeat> withoutHeat(CabinetKey cabinet) {
        Temperature limit = Temperature.ofCelsius(20);
        if (cabinet.equals(InventedCabinets.Story.CALM.key())
                || cabinet.equals(InventedCabinets.Story.STALE.key())) {
            return Optional.of(
                    new WithoutHeat(
                            Optional.of(Duration.ofMinutes(327)),
                            limit,
                            Optional.of(Temperature.ofCelsius(31.2))));
        }
        return Optional.of(
                new WithoutHeat(
                        cabinet.equals(InventedCabinets.Story.TRIPPED.key())
                                ? Optional.empty()
                                : Optional.of(Duration.ofHours(2)),
                        limit,
                        Optional.empty()));
    }

    private OpenAlarm alarm(
            String id,
            InventedCabinets.Story story,
            String headline,
            String detail,
            String advice) {
        return new OpenAlarm(
                id,
                Optional.of(story.key()),
                headline,
                now.get().minusSeconds(300),
                detail,
                advice,
                "act now",
                acknowledged.stream().anyMatch(each -> each.startsWith(id)));
    }

    @Override
    public Optional<String> acknowledge(String id, Visitor visitor) {
        if (open().stream().noneMatch(alarm -> alarm.id().equals(id))) {
            return Optional.of("there is no such alarm any more");
        }
        acknowledged.add(id + " by " + visitor.name());
        return Optional.empty();
    }
}
