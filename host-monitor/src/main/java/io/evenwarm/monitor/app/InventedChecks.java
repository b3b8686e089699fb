package io.evenwarm.monitor.app;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.evenness.Estimate;
import io.evenwarm.monitor.evenness.ProbeEntry;
import io.evenwarm.monitor.history.CabinetKey;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Invented checks of the demo's thermometers, so that its surveys have something to rest on: two
 * cabinets' were compared, one's so long ago that drift counts, the third's never were.
 */
final class InventedChecks {

    private static final Duration LATELY = Duration.ofDays(40);
    private static final Duration LONG_AGO = Duration.ofDays(300);

    /** As a side-by-side check in stirred water leaves it. */
    private static final double OFFSET_STANDARD_KELVIN = 0.025;

    private static final double DEGREES_OF_FREEDOM = 1000;

    private InventedChecks() {}

    static List<ProbeEntry> of(Instant now) {
        List<ProbeEntry> entries = new ArrayList<>();
        List<String> cabinets = DemoConfiguration.cabinets();
        compared(cabinets.get(0), now.minus(LATELY), entries);
        compared(cabinets.get(1), now.minus(LONG_AGO), entries);
        return entries;
    }

    private static void compared(String cabinet, Instant at, List<ProbeEntry> entries) {
        CabinetKey key =
                new CabinetKey(
                        new AgentName(DemoConfiguration.AGENT_NAME), new CabinetName(cabinet));
        for (String probe : DemoConfiguration.POSITIONS) {
            entries.add(
                    new ProbeEntry(
                            key,
                            new ProbeName(probe),
                            at,
                            ProbeEntry.Kind.SIDE_BY_SIDE,
                            "invented Pt100",
                            // A simulated probe reads what it is given: there is nothing to add.
                            Optional.of(
                                    new Estimate(0, OFFSET_STANDARD_KELVIN, DEGREES_OF_FREEDOM))));
        }
    }
}
