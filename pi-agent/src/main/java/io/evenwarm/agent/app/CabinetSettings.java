package io.evenwarm.agent.app;

import io.evenwarm.agent.driver.pi4j.GpioPull;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.rehearsal.Scenario;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * One cabinet: its plan, and how its probes and lines are reached.
 *
 * @param plan what control and guard need to know
 * @param probes in the plan's order
 * @param heater the heater relay's line
 * @param cutOffRelay the cut-off relay's line
 * @param fan the fan's line
 * @param buzzer the buzzer's line
 * @param humidifier the humidifier's line
 * @param vent the vent's line
 * @param inputs switches, buttons, tachometer
 * @param simulated what the simulated cabinet is made of; empty for a real one
 * @param faults what goes wrong with a simulated cabinet, from the agent's start on
 */
record CabinetSettings(
        CabinetPlan plan,
        List<ProbeWiring> probes,
        OutputWiring heater,
        Optional<OutputWiring> cutOffRelay,
        Optional<OutputWiring> fan,
        Optional<OutputWiring> buzzer,
        Optional<OutputWiring> humidifier,
        Optional<OutputWiring> vent,
        InputWirings inputs,
        Optional<CabinetBuild> simulated,
        List<Scenario.TimedFault> faults) {

    CabinetSettings {
        faults = List.copyOf(faults);
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
        I2C("i2c"),
        SERIAL_BOARD("serial-board"),
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

    /** All outputs, in the order in which they are driven off: what heats comes first. */
    List<OutputWiring> outputs() {
        return Stream.of(Optional.of(heater), cutOffRelay, fan, buzzer, humidifier, vent)
                .flatMap(Optional::stream)
                .toList();
    }

    /**
     * How a line is reached.
     *
     * @param driver its driver
     * @param line where the driver finds it; empty for a simulated one
     * @param activeLow whether its low level energises
     * @param pulsed whether what is behind it stays energised only while its level keeps changing
     */
    record OutputWiring(OutputDriver driver, String line, boolean activeLow, boolean pulsed) {}

    /** Drivers of outputs. */
    enum OutputDriver {
        LED("led"),
        GPIO("gpio"),
        SIMULATED("simulated");

        private final String word;

        OutputDriver(String word) {
            this.word = word;
        }

        String word() {
            return word;
        }
    }

    /**
     * What a cabinet has beside its probes.
     *
     * @param door its switch
     * @param fanTachometer the fan's tachometer wire
     * @param silenceButton its button
     * @param resetButton its button
     */
    record InputWirings(
            Optional<InputWiring> door,
            Optional<InputWiring> fanTachometer,
            Optional<InputWiring> silenceButton,
            Optional<InputWiring> resetButton) {

        static final InputWirings NONE =
                new InputWirings(
                        Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
    }

    /**
     * How an input is reached.
     *
     * @param line a GPIO line
     * @param closedHigh whether the closed contact makes it high
     * @param pull what holds it while the contact is open
     * @param pulsesPerTurn of a tachometer
     */
    record InputWiring(String line, boolean closedHigh, GpioPull pull, int pulsesPerTurn) {}
}
