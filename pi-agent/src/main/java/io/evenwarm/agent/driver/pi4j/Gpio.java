package io.evenwarm.agent.driver.pi4j;

import io.evenwarm.agent.port.Contact;
import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.Tachometer;
import io.evenwarm.clock.MonotonicClock;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The GPIO lines of a Pi's header. Nothing is touched before an output is first driven or {@link
 * #openInputs()} is called.
 */
public final class Gpio implements AutoCloseable {

    /** What a line's name looks like, for a person. */
    public static final String LINE_FORM = "\"GPIO\" and a number from 0 to 27, as in \"GPIO23\"";

    private static final Pattern LINE = Pattern.compile("GPIO(\\d|1\\d|2[0-7])");
    private static final long RETRY_MILLIS = TimeUnit.SECONDS.toMillis(10);

    private final GpioLines lines;
    private final MonotonicClock clock;
    private final List<GpioInput> inputs = new ArrayList<>();
    private volatile boolean closed;

    Gpio(GpioLines lines, MonotonicClock clock) {
        this.lines = lines;
        this.clock = clock;
    }

    /** Those of this machine. */
    public static Gpio ofThisMachine(MonotonicClock clock) {
        return new Gpio(Pi4jLines.ofThisMachine(clock), clock);
    }

    /** Whether this can be a line's name. */
    public static boolean isLine(String text) {
        return LINE.matcher(text).matches();
    }

    private static int number(String line) {
        Matcher matcher = LINE.matcher(line);
        if (!matcher.matches()) {
            throw new IllegalArgumentException("not " + LINE_FORM + ": " + line);
        }
        return Integer.parseInt(matcher.group(1));
    }

    /**
     * A line that switches something.
     *
     * @param line checked with {@link #isLine}
     * @param activeLow whether the low level energises
     */
    public Output output(String line, boolean activeLow) {
        return new GpioOutput(lines, number(line), activeLow);
    }

    /**
     * A switch or button.
     *
     * @param line checked with {@link #isLine}
     * @param closedHigh whether the closed contact makes the line high
     * @param pull what holds the line while it is open
     * @param holdsPress a button: that it was pressed is told once, also when it was let go before
     *     anybody asked
     */
    public Contact contact(String line, boolean closedHigh, GpioPull pull, boolean holdsPress) {
        GpioContact contact = new GpioContact(closedHigh, holdsPress, clock);
        inputs.add(new GpioInput(lines, number(line), pull, contact));
        return contact;
    }

    /**
     * A fan's tachometer wire.
     *
     * @param line checked with {@link #isLine}
     * @param pull what holds the line while the fan's transistor is open
     * @param pulsesPerTurn 2 for most fans
     */
    public Tachometer tachometer(String line, GpioPull pull, int pulsesPerTurn) {
        PulseTachometer tachometer = new PulseTachometer(pulsesPerTurn, clock);
        inputs.add(new GpioInput(lines, number(line), pull, tachometer));
        return tachometer;
    }

    /** Begins to listen. Inputs that can't be had are tried again, from a thread of their own. */
    public void openInputs() {
        if (openMissingInputs()) {
            return;
        }
        Thread retry = new Thread(this::retry, "gpio inputs");
        retry.setDaemon(true);
        retry.start();
    }

    private void retry() {
        try {
            do {
                TimeUnit.MILLISECONDS.sleep(RETRY_MILLIS);
            } while (!closed && !openMissingInputs());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Whether all are open now. */
    boolean openMissingInputs() {
        boolean all = true;
        for (GpioInput input : inputs) {
            all &= input.open();
        }
        return all;
    }

    /** Lets go of all lines, outputs off. */
    @Override
    public void close() {
        closed = true;
        lines.close();
    }
}
