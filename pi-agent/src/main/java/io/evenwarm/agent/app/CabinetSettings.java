package io.evenwarm.agent.app;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plant.CabinetBuild;
import java.util.List;
import java.util.Optional;

/**
 * One cabinet: its plan, and how its probes and lines are reached.
 *
 * @param plan what control and guard need to know
 * @param probes in the plan's order
 * @param heater the heater relay's line
 * @param cutOffRelay the cut-off relay's line
 * @param fan the fan's line
 * @param buzzer the buzzer's line
 * @param simulated what the simulated cabinet is made of; empty for a real one
 */
record CabinetSettings(
        CabinetPlan plan,
        List<ProbeWiring> probes,
        OutputWiring heater,
        Optional<OutputWiring> cutOffRelay,
        Optional<OutputWiring> fan,
        Optional<OutputWiring> buzzer,
        Optional<CabinetBuild> simulated) {

    CabinetSettings {
        probes = List.copyOf(probes);
    }

    boolean isSimulated() {
        return simulated.isPresent();
    }

    /**
     * How a probe is reached.
     *
     * @param driver its driver
     * @param address where the driver finds it; empty for a simulated one
     */
    record ProbeWiring(ProbeDriver driver, String address) {}

    /** Drivers of probes. */
    enum ProbeDriver {
        ONE_WIRE("one-wire"),
        HWMON("hwmon"),
        IIO("iio"),
        SIMULATED("simulated");

        private final String word;

        ProbeDriver(String word) {
            this.word = word;
        }

        /** Its name in the file. */
        String word() {
            return word;
        }
    }

    /**
     * How a line is reached.
     *
     * @param driver its driver
     * @param line where the driver finds it; empty for a simulated one
     */
    record OutputWiring(OutputDriver driver, String line) {}

    /** Drivers of outputs. */
    enum OutputDriver {
        LED("led"),
        SIMULATED("simulated");

        private final String word;

        OutputDriver(String word) {
            this.word = word;
        }

        String word() {
            return word;
        }
    }
}
