package io.evenwarm.agent.driver.pi4j;

import com.pi4j.Pi4J;
import com.pi4j.context.Context;
import com.pi4j.io.gpio.digital.DigitalInput;
import com.pi4j.io.gpio.digital.DigitalInputConfig;
import com.pi4j.io.gpio.digital.DigitalOutput;
import com.pi4j.io.gpio.digital.DigitalOutputConfig;
import com.pi4j.io.gpio.digital.DigitalState;
import com.pi4j.io.gpio.digital.PullResistance;
import com.pi4j.plugin.gpiod.GpioDPlugin;
import com.pi4j.plugin.gpiod.provider.gpio.digital.GpioDDigitalInputProvider;
import com.pi4j.plugin.gpiod.provider.gpio.digital.GpioDDigitalOutputProvider;
import io.evenwarm.clock.MonotonicClock;
import java.io.IOException;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;

/**
 * Lines through Pi4J's gpiod provider, which must be the one that was named: a context that looks
 * for providers by itself may come back with mocks, on which no relay hangs.
 */
final class Pi4jLines implements GpioLines {

    /** Building a context takes a tenth of a second, which no tick has. */
    private static final long RETRY_NANOS = TimeUnit.SECONDS.toNanos(10);

    private final Supplier<Context> contexts;
    private final String outputProvider;
    private final String inputProvider;
    private final MonotonicClock clock;

    /** Guarded by this. */
    private Optional<Context> context = Optional.empty();

    private Optional<IOException> contextFailure = Optional.empty();
    private long contextFailedNanos;
    private int opened;

    Pi4jLines(
            Supplier<Context> contexts,
            String outputProvider,
            String inputProvider,
            MonotonicClock clock) {
        this.contexts = contexts;
        this.outputProvider = outputProvider;
        this.inputProvider = inputProvider;
        this.clock = clock;
    }

    static Pi4jLines ofThisMachine(MonotonicClock clock) {
        return new Pi4jLines(
                () ->
                        Pi4J.newContextBuilder()
                                .noAutoDetect()
                                .disableShutdownHook()
                                .add(
                                        GpioDDigitalOutputProvider.newInstance(),
                                        GpioDDigitalInputProvider.newInstance())
                                .build(),
                GpioDPlugin.DIGITAL_OUTPUT_PROVIDER_ID,
                GpioDPlugin.DIGITAL_INPUT_PROVIDER_ID,
                clock);
    }

    @Override
    public synchronized OutputLine output(int gpio, boolean high) throws IOException {
        Context there = context();
        String id = nextId(gpio);
        DigitalState first = state(high);
        try {
            DigitalOutputConfig config =
                    DigitalOutput.newConfigBuilder(there)
                            .id(id)
                            .address(gpio)
                            .initial(first)
                            .shutdown(first)
                            .provider(outputProvider)
                            .build();
            DigitalOutput line = there.create(config);
            return level -> set(line, level);
        } catch (RuntimeException | LinkageError e) {
            forget(there, id);
            throw failure(gpio, e);
        }
    }

    private static void set(DigitalOutput line, boolean high) throws IOException {
        try {
            line.state(state(high));
        } catch (RuntimeException | LinkageError e) {
            throw new IOException(innermost(e), e);
        }
    }

    @Override
    public synchronized InputLine input(int gpio, GpioPull pull, Changes changes)
            throws IOException {
        Context there = context();
        String id = nextId(gpio);
        try {
            DigitalInputConfig config =
                    DigitalInput.newConfigBuilder(there)
                            .id(id)
                            .address(gpio)
                            .pull(pull(pull))
                            .debounce(0L)
                            .provider(inputProvider)
                            .build();
            DigitalInput line = there.create(config);
            line.addListener(event -> changes.to(event.state().isHigh()));
            return () -> isHigh(line);
        } catch (RuntimeException | LinkageError e) {
            forget(there, id);
            throw failure(gpio, e);
        }
    }

    private static boolean isHigh(DigitalInput line) throws IOException {
        try {
            return line.state().isHigh();
        } catch (RuntimeException | LinkageError e) {
            throw new IOException(innermost(e), e);
        }
    }

    /** Each try has a name of its own: a name may stay taken after a try that failed. */
    private String nextId(int gpio) {
        opened++;
        return "evenwarm-gpio" + gpio + "-" + opened;
    }

    private static DigitalState state(boolean high) {
        return high ? DigitalState.HIGH : DigitalState.LOW;
    }

    private static PullResistance pull(GpioPull pull) {
        return switch (pull) {
            case UP -> PullResistance.PULL_UP;
            case DOWN -> PullResistance.PULL_DOWN;
            case NONE -> PullResistance.OFF;
        };
    }

    private Context context() throws IOException {
        if (context.isPresent()) {
            return context.get();
        }
        if (contextFailure.isPresent() && clock.nanos() - contextFailedNanos < RETRY_NANOS) {
            throw new IOException(contextFailure.get().getMessage(), contextFailure.get());
        }
        try {
            Context made = contexts.get();
            context = Optional.of(made);
            return made;
        } catch (RuntimeException | LinkageError e) {
            IOException failure = new IOException("Pi4J can't start: " + innermost(e), e);
            contextFailure = Optional.of(failure);
            contextFailedNanos = clock.nanos();
            throw failure;
        }
    }

    private static void forget(Context context, String id) {
        try {
            if (context.hasIO(id)) {
                context.shutdown(id);
            }
        } catch (RuntimeException | LinkageError e) {
            System.getLogger(Pi4jLines.class.getName())
                    .log(System.Logger.Level.DEBUG, "forgetting " + id, e);
        }
    }

    private static IOException failure(int gpio, Throwable cause) {
        String reason = innermost(cause);
        String hint =
                reason.contains("No gpio chip")
                        ? ": this is no Raspberry Pi that Pi4J knows, or it may not use /dev/gpiochip*"
                                + " (group gpio)"
                        : ": is it used by another program, or by an overlay?";
        return new IOException("GPIO" + gpio + " can't be had (" + reason + ")" + hint, cause);
    }

    private static String innermost(Throwable thrown) {
        Throwable cause = thrown;
        while (cause.getCause() != null) {
            cause = cause.getCause();
        }
        String message = cause.getMessage();
        return message == null ? cause.getClass().getSimpleName() : message;
    }

    @Override
    public synchronized void close() {
        context.ifPresent(
                there -> {
                    try {
                        there.shutdown();
                    } catch (RuntimeException | LinkageError e) {
                        System.getLogger(Pi4jLines.class.getName())
                                .log(System.Logger.Level.WARNING, "Pi4J's end", e);
                    }
                });
        context = Optional.empty();
    }
}
