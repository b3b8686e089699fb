package io.evenwarm.monitor.app;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Tub;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The tubs in the demo's cabinets. All of it is invented, and each tub says so. */
final class DemoTubs {

    private static final List<String> SHELVES = List.of("top", "middle", "bottom");

    /** Some clutch has been hatched since, and another one came. */
    private static final Duration EXCHANGED_BEFORE = Duration.ofDays(9);

    private static final int EGGS_LEAST = 4;
    private static final int EGG_GRAMS = 14;

    private DemoTubs() {}

    /**
     * All that ever stood there.
     *
     * @param from when the first came
     * @param now when the demo began
     */
    static List<Tub> of(Instant from, Instant now) {
        List<Tub> tubs = new ArrayList<>();
        DemoConfiguration.tubCounts()
                .forEach((cabinet, count) -> tubs.addAll(in(cabinet, count, from, now)));
        return tubs;
    }

    private static List<Tub> in(String cabinet, int count, Instant from, Instant now) {
        CabinetKey key =
                new CabinetKey(
                        new AgentName(DemoConfiguration.AGENT_NAME), new CabinetName(cabinet));
        List<Tub> tubs = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            String name = cabinet + " " + (i + 1);
            String shelf = SHELVES.get(i % SHELVES.size());
            Instant exchanged = now.minus(EXCHANGED_BEFORE);
            if (i == 0 && from.isBefore(exchanged)) {
                tubs.add(tub(name + " earlier", key, shelf, i, from, Optional.of(exchanged)));
                tubs.add(tub(name, key, shelf, i, exchanged, Optional.empty()));
            } else {
                tubs.add(tub(name, key, shelf, i, from, Optional.empty()));
            }
        }
        return tubs;
    }

    private static Tub tub(
            String name,
            CabinetKey key,
            String shelf,
            int index,
            Instant from,
            Optional<Instant> to) {
        int eggs = EGGS_LEAST + index * 5 % 9;
        return new Tub(
                name,
                key,
                shelf,
                DemoConfiguration.TUB_GRAMS,
                eggs + " eggs of " + EGG_GRAMS + " g, an invented clutch",
                from,
                to);
    }
}
