package io.evenwarm.agent.driver.pi4j;

import io.evenwarm.agent.port.Tachometer;
import io.evenwarm.clock.MonotonicClock;
import java.util.OptionalDouble;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;

/**
 * Turns of a fan from the pulses of its tachometer wire, over about the last 3 s.
 *
 * <p>Pulses come from the library's thread, questions from the control thread.
 */
final class PulseTachometer implements Tachometer, GpioInput.Listener {

    private static final long WINDOW_NANOS = TimeUnit.SECONDS.toNanos(3);
    private static final long STEP_NANOS = TimeUnit.MILLISECONDS.toNanos(500);
    private static final int STEPS = (int) (WINDOW_NANOS / STEP_NANOS) + 1;
    private static final double NANOS_PER_MINUTE = 60e9;

    private final int pulsesPerTurn;
    private final MonotonicClock clock;
    private final AtomicLong pulses = new AtomicLong();
    private volatile boolean isOpen;

    /** Ring of (time, pulses by then); the control thread's. */
    private final long[] times = new long[STEPS];

    private final long[] counts = new long[STEPS];
    private int marks;

    PulseTachometer(int pulsesPerTurn, MonotonicClock clock) {
        this.pulsesPerTurn = pulsesPerTurn;
        this.clock = clock;
    }

    @Override
    public void opened(boolean high) {
        isOpen = true;
    }

    @Override
    public void to(boolean high) {
        if (high) {
            pulses.incrementAndGet();
        }
    }

    @Override
    public OptionalDouble revolutionsPerMinute() {
        if (!isOpen) {
            return OptionalDouble.empty();
        }
        long now = clock.nanos();
        long count = pulses.get();
        if (marks == 0 || now - times[(marks - 1) % STEPS] >= STEP_NANOS) {
            times[marks % STEPS] = now;
            counts[marks % STEPS] = count;
            marks++;
        }
        int oldest = beginOfWindow(now);
        long elapsed = now - times[oldest];
        if (elapsed < 2 * STEP_NANOS) {
            return OptionalDouble.empty();
        }
        double turns = (double) (count - counts[oldest]) / pulsesPerTurn;
        return OptionalDouble.of(turns * NANOS_PER_MINUTE / elapsed);
    }

    /** The newest mark that is a window old, or the oldest one. */
    private int beginOfWindow(long now) {
        int first = Math.max(0, marks - STEPS);
        int mark = marks - 1;
        while (mark > first && now - times[mark % STEPS] < WINDOW_NANOS) {
            mark--;
        }
        return mark % STEPS;
    }
}
