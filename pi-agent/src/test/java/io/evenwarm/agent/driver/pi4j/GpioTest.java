package io.evenwarm.agent.driver.pi4j;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.pi4j.Pi4J;
import com.pi4j.context.Context;
import com.pi4j.io.gpio.digital.DigitalOutput;
import com.pi4j.io.gpio.digital.DigitalState;
import com.pi4j.plugin.mock.Mock;
import com.pi4j.plugin.mock.provider.gpio.digital.MockDigitalInput;
import com.pi4j.plugin.mock.provider.gpio.digital.MockDigitalInputProvider;
import com.pi4j.plugin.mock.provider.gpio.digital.MockDigitalOutputProvider;
import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.port.Contact;
import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.OutputException;
import io.evenwarm.agent.port.Tachometer;
import io.evenwarm.clock.SystemClock;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Lines through Pi4J's mock, which is named as the provider, and faults at the lowest edge. */
final class GpioTest {

    private final HandClock clock = new HandClock();
    private final List<Context> contexts = new ArrayList<>();
    private final Gpio gpio = new Gpio(lines(Mock.DIGITAL_OUTPUT_PROVIDER_ID), clock);

    private Pi4jLines lines(String outputProvider) {
        return new Pi4jLines(this::context, outputProvider, Mock.DIGITAL_INPUT_PROVIDER_ID, clock);
    }

    private Context context() {
        Context context =
                Pi4J.newContextBuilder()
                        .noAutoDetect()
                        .disableShutdownHook()
                        .add(
                                MockDigitalOutputProvider.newInstance(),
                                MockDigitalInputProvider.newInstance())
                        .build();
        contexts.add(context);
        return context;
    }

    private DigitalState level(String id) {
        return contexts.get(0).<DigitalOutput>io(id).state();
    }

    @Test
    void anOutputIsTakenAtOffDrivenAndLeftAtOff() throws OutputException {
        try (Output heater = gpio.output("GPIO23", false)) {
            assertEquals(List.of(), contexts, "nothing is touched before");
            heater.drive(false);
            assertEquals(DigitalState.LOW, level("evenwarm-gpio23-1"));
            heater.drive(true);
            assertEquals(DigitalState.HIGH, level("evenwarm-gpio23-1"));
        }
        assertEquals(DigitalState.LOW, level("evenwarm-gpio23-1"));
    }

    @Test
    void anActiveLowLineIsHighWhenOffFromTheFirstMomentToTheLast() throws OutputException {
        Output fan = gpio.output("GPIO24", true);
        fan.drive(false);
        DigitalOutput line = contexts.get(0).io("evenwarm-gpio24-1");
        assertEquals(DigitalState.HIGH, line.config().initialState());
        assertEquals(DigitalState.HIGH, line.config().shutdownState());
        assertEquals(DigitalState.HIGH, line.state());
        fan.drive(true);
        assertEquals(DigitalState.LOW, line.state());
        gpio.close();
        assertEquals(DigitalState.HIGH, line.state());
        assertTrue(contexts.get(0).isShutdown());
    }

    @Test
    void aProviderThatIsNotTheNamedOneIsNeverTaken() {
        Gpio other = new Gpio(lines("gpiod-digital-output"), clock);
        OutputException failure =
                assertThrows(
                        OutputException.class, () -> other.output("GPIO23", false).drive(false));
        assertTrue(
                String.valueOf(failure.getMessage()).startsWith("GPIO23 could not be driven off"),
                failure::toString);
    }

    /**
     * The real provider where it can't work. Off is all that is asked of it: on a Pi there may be a
     * relay at the end of that line.
     */
    @Test
    void withoutAChipTheRealProviderIsAnOutputExceptionAndNoSilence() throws OutputException {
        try (Gpio real = Gpio.ofThisMachine(SystemClock.monotonic())) {
            Output line = real.output("GPIO23", false);
            if (Files.exists(Path.of("/proc/device-tree/model"))) {
                line.drive(false);
                return;
            }
            OutputException failure = assertThrows(OutputException.class, () -> line.drive(false));
            assertTrue(
                    String.valueOf(failure.getMessage())
                            .startsWith("GPIO23 could not be driven off: GPIO23 can't be had"),
                    failure::toString);
        }
    }

    /** Lines that fail as a test wants, at the edge where Pi4J begins. */
    private static final class FaultyLines implements GpioLines {
        private final List<String> calls = new ArrayList<>();
        private boolean canOpen = true;
        private boolean canSet = true;

        @Override
        public OutputLine output(int gpio, boolean high) throws IOException {
            if (!canOpen) {
                throw new IOException("Device or resource busy");
            }
            calls.add("take " + gpio + (high ? " high" : " low"));
            return level -> {
                if (!canSet) {
                    throw new IOException("No such device");
                }
                calls.add(level ? "high" : "low");
            };
        }

        @Override
        public InputLine input(int gpio, GpioPull pull, Changes changes) throws IOException {
            if (!canOpen) {
                throw new IOException("Device or resource busy");
            }
            return () -> true;
        }

        @Override
        public void close() {
            calls.add("close");
        }
    }

    @Test
    void aLineThatCannotBeHadIsTriedAgainAtTheNextCall() throws OutputException {
        FaultyLines lines = new FaultyLines();
        Output heater = new Gpio(lines, clock).output("GPIO23", false);
        lines.canOpen = false;
        OutputException busy = assertThrows(OutputException.class, () -> heater.drive(false));
        assertEquals("GPIO23 could not be driven off: Device or resource busy", busy.getMessage());
        lines.canOpen = true;
        heater.drive(true);
        assertEquals(List.of("take 23 low", "high"), lines.calls);
    }

    @Test
    void aLineThatNoLongerObeysIsToldAtEachCallAndObeysAgainLater() throws OutputException {
        FaultyLines lines = new FaultyLines();
        Output heater = new Gpio(lines, clock).output("GPIO23", false);
        heater.drive(true);
        lines.canSet = false;
        for (int i = 0; i < 2; i++) {
            OutputException gone = assertThrows(OutputException.class, () -> heater.drive(false));
            assertEquals("GPIO23 could not be driven off: No such device", gone.getMessage());
        }
        lines.canSet = true;
        heater.drive(false);
        assertEquals(List.of("take 23 low", "high", "low"), lines.calls);
    }

    private void set(String id, boolean high) {
        MockDigitalInput line = contexts.get(0).io(id);
        line.mockState(high ? DigitalState.HIGH : DigitalState.LOW);
    }

    @Test
    void aDoorSwitchSaysShutOnceItsLevelHasStood() {
        Contact door = gpio.contact("GPIO17", false, GpioPull.UP, false);
        assertEquals(Optional.empty(), door.isClosed(), "not open yet");
        assertTrue(gpio.openMissingInputs());
        set("evenwarm-gpio17-1", true);
        clock.advanceSeconds(1);
        assertEquals(Optional.of(false), door.isClosed());

        set("evenwarm-gpio17-1", false);
        assertEquals(Optional.of(false), door.isClosed(), "it may bounce yet");
        clock.advanceSeconds(0.03);
        assertEquals(Optional.of(true), door.isClosed());
    }

    @Test
    void bouncesAreNeverSeen() {
        Random random = new Random(20_261_125);
        Contact button = gpio.contact("GPIO27", true, GpioPull.DOWN, true);
        assertTrue(gpio.openMissingInputs());
        clock.advanceSeconds(1);
        for (int press = 0; press < 200; press++) {
            boolean high = true;
            for (int bounce = 0; bounce < 1 + random.nextInt(9); bounce++) {
                set("evenwarm-gpio27-1", high);
                clock.advanceSeconds(0.02 * random.nextDouble());
                assertEquals(Optional.of(false), button.isClosed(), "press " + press);
                high = !high;
            }
            set("evenwarm-gpio27-1", true);
            clock.advanceSeconds(0.05);
            set("evenwarm-gpio27-1", false);
            clock.advanceSeconds(0.9);
            assertEquals(Optional.of(true), button.isClosed(), "told once, though let go");
            assertEquals(Optional.of(false), button.isClosed(), "and not twice");
        }
    }

    @Test
    void aTachometerCountsTurns() {
        Tachometer tachometer = gpio.tachometer("GPIO22", GpioPull.UP, 2);
        assertEquals(OptionalDouble.empty(), tachometer.revolutionsPerMinute(), "not open yet");
        assertTrue(gpio.openMissingInputs());
        assertEquals(OptionalDouble.empty(), tachometer.revolutionsPerMinute(), "too early");
        for (int second = 0; second < 10; second++) {
            // 20 turns a second, two pulses each: 1200 a minute.
            for (int pulse = 0; pulse < 40; pulse++) {
                set("evenwarm-gpio22-1", true);
                set("evenwarm-gpio22-1", false);
                clock.advanceSeconds(1.0 / 40);
            }
            assertEquals(1200, tachometer.revolutionsPerMinute().orElseThrow(), 1, "" + second);
        }
        for (int second = 0; second < 4; second++) {
            clock.advanceSeconds(1);
            assertFalse(tachometer.revolutionsPerMinute().isEmpty());
        }
        assertEquals(0, tachometer.revolutionsPerMinute().orElseThrow(), "stopped");
    }

    @Test
    void anInputThatCannotBeHadSaysNothingUntilItCan() {
        FaultyLines lines = new FaultyLines();
        lines.canOpen = false;
        try (Gpio faulty = new Gpio(lines, clock)) {
            Contact door = faulty.contact("GPIO17", true, GpioPull.DOWN, false);
            Tachometer tachometer = faulty.tachometer("GPIO22", GpioPull.UP, 2);
            assertFalse(faulty.openMissingInputs());
            assertEquals(Optional.empty(), door.isClosed());
            assertEquals(OptionalDouble.empty(), tachometer.revolutionsPerMinute());
            lines.canOpen = true;
            assertTrue(faulty.openMissingInputs());
            assertEquals(Optional.of(true), door.isClosed());
        }
    }

    @Test
    void onlyLinesOfTheHeaderAreLines() {
        for (String text : List.of("GPIO0", "GPIO9", "GPIO10", "GPIO27")) {
            assertTrue(Gpio.isLine(text), text);
        }
        for (String text : List.of("", "23", "gpio23", "GPIO28", "GPIO01", "GPIO123", "GPIO-1")) {
            assertFalse(Gpio.isLine(text), text);
        }
    }
}
