package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * An agent that is restarted goes on with the duty that held the cabinet. These are the cabinets of
 * the catalogue's first hundred whose air sank by more than 0.75 K while it began at none.
 */
final class RestartKeepsHeatTest {

    private static final int HOUR = 3600;
    private static final int RESTART_AT = 12 * HOUR;
    private static final int LOOK_SECONDS = 4 * HOUR;
    private static final double MOST_DIP_KELVIN = 0.3;

    @ParameterizedTest
    @ValueSource(longs = {3, 10, 21, 26, 31, 38, 44, 50, 52, 64, 97})
    void theAirSinksByLittle(long seed) {
        double before = Double.POSITIVE_INFINITY;
        double after = Double.POSITIVE_INFINITY;
        Scenario scenario =
                new Scenario(
                        seed,
                        RESTART_AT + LOOK_SECONDS,
                        Catalogue.cabinet(seed),
                        List.of(),
                        List.of(),
                        Weather.STEADY,
                        List.of((double) RESTART_AT));
        try (RunningScenario running =
                new RunningScenario(scenario, new CabinetName("restarted"))) {
            for (int second = 0; second < RESTART_AT + LOOK_SECONDS; second++) {
                double celsius =
                        running.second()
                                .flatMap(CabinetSnapshot::processValue)
                                .map(value -> value.celsius())
                                .orElse(Double.POSITIVE_INFINITY);
                if (second >= RESTART_AT) {
                    after = Math.min(after, celsius);
                } else if (second >= RESTART_AT - LOOK_SECONDS) {
                    before = Math.min(before, celsius);
                }
            }
        }
        double dip = before - after;
        assertTrue(
                dip < MOST_DIP_KELVIN, "seed " + seed + ": " + dip + " K below the lowest before");
    }
}
