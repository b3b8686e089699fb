package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.message.ControlReport;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

final class TuneCommandTest {

    @Test
    void whatATestLedToIsPrintedAsTheConfigurationTakesIt() {
        ControlReport report =
                new ControlReport(
                        10,
                        Optional.empty(),
                        Optional.of(
                                new ControlReport.Tuning(
                                        "step",
                                        Optional.empty(),
                                        Optional.of("improved SIMC, PID"),
                                        Optional.of(1.25),
                                        Optional.of(480.4),
                                        Optional.of(20.0),
                                        Optional.of(116.0),
                                        Optional.of(4.0),
                                        List.of("model: gain 8.00 K for full duty"))),
                        List.of());
        assertEquals(
                """
                # last test: step
                # model: gain 8.00 K for full duty
                # rule: improved SIMC, PID
                [cabinet.control]
                gain_per_kelvin = 1.250
                integral_seconds = 480
                derivative_seconds = 20
                window_seconds = 116
                minimum_on_seconds = 4
                minimum_off_seconds = 4
                gain_follows_duty = false
                """,
                TuneCommand.text(Optional.of(report)));
    }

    @Test
    void aTestThatRunsOrFoundNothingIsSaidSo() {
        assertEquals(
                "# no test has ended since the agent was started\n",
                TuneCommand.text(Optional.empty()));
        ControlReport failed =
                new ControlReport(
                        10,
                        Optional.of("relay test, 4 min"),
                        Optional.of(
                                new ControlReport.Tuning(
                                        "step",
                                        Optional.of("a person stopped it"),
                                        Optional.empty(),
                                        Optional.empty(),
                                        Optional.empty(),
                                        Optional.empty(),
                                        Optional.empty(),
                                        Optional.empty(),
                                        List.of())),
                        List.of());
        assertEquals(
                "# now: relay test, 4 min\n# last test: step\n# no result: a person stopped it\n",
                TuneCommand.text(Optional.of(failed)));
    }
}
