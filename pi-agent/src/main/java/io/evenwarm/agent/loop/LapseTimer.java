package io.evenwarm.agent.loop;

import io.evenwarm.agent.guard.OutputGate;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.message.CabinetName;
import java.util.concurrent.locks.LockSupport;

/**
 * Drives one cabinet's heater and cut-off relay off when its gate has not been fed for a while: the
 * control thread hangs, or is dead. Always on; has a thread of its own, so that a line that hangs
 * keeps nobody else's timer.
 *
 * <p>It keeps driving them off several times a second until the gate is fed again, so that a
 * control thread which wakes up in the middle of its work energises nothing for long.
 *
 * <p>A hung JVM stops this thread too: that is for the service manager's watchdog.
 */
public final class LapseTimer implements AutoCloseable {

    /**
     * Four missed ticks: late enough for a slow machine, and well before the service manager's six
     * seconds, so that heat is off before a process that hangs is ended.
     */
    static final long DEFAULT_LIMIT_NANOS = 4_000_000_000L;

    private static final System.Logger LOG = System.getLogger(LapseTimer.class.getName());
    private static final long LOOKS_PER_LIMIT = 20;

    private final CabinetName cabinet;
    private final OutputGate gate;
    private final MonotonicClock clock;
    private final long limitNanos;
    private final Thread thread;
    private volatile boolean isClosed;

    // Timer thread only, or the caller of step.
    private long lastFeeds;
    private long fedAtNanos;
    private boolean isLapsed;

    /**
     * For whoever lets time pass himself, and calls {@link #step} instead of starting a thread.
     *
     * @param nowNanos the time now, on the clock of the steps to come
     */
    public static LapseTimer ofVirtualTime(CabinetLoop cabinet, long nowNanos) {
        return new LapseTimer(
                cabinet.cabinet(), cabinet.gate(), () -> nowNanos, DEFAULT_LIMIT_NANOS);
    }

    /**
     * @param clock real time, whatever speed the ticks run at
     * @param limitNanos how long the gate may go unfed
     */
    LapseTimer(CabinetName cabinet, OutputGate gate, MonotonicClock clock, long limitNanos) {
        this.cabinet = cabinet;
        this.gate = gate;
        this.clock = clock;
        this.limitNanos = limitNanos;
        lastFeeds = gate.feeds();
        fedAtNanos = clock.nanos();
        thread = new Thread(this::run, "lapse " + cabinet);
        thread.setDaemon(true);
    }

    void start() {
        fedAtNanos = clock.nanos();
        thread.start();
    }

    private void run() {
        while (!isClosed) {
            step(clock.nanos());
            LockSupport.parkNanos(limitNanos / LOOKS_PER_LIMIT);
        }
    }

    /** One look. Returns whether the lines were driven off. */
    public boolean step(long nowNanos) {
        long feeds = gate.feeds();
        if (feeds != lastFeeds) {
            lastFeeds = feeds;
            fedAtNanos = nowNanos;
            if (isLapsed) {
                isLapsed = false;
                LOG.log(
                        System.Logger.Level.WARNING,
                        "cabinet {0}: the control thread is back",
                        cabinet);
            }
            return false;
        }
        if (nowNanos - fedAtNanos < limitNanos) {
            return false;
        }
        gate.lapse();
        if (!isLapsed) {
            isLapsed = true;
            LOG.log(
                    System.Logger.Level.ERROR,
                    "cabinet {0}: no tick for {1} ms: heater and cut-off relay driven off",
                    cabinet,
                    (nowNanos - fedAtNanos) / 1_000_000);
        }
        return true;
    }

    @Override
    public void close() {
        isClosed = true;
        LockSupport.unpark(thread);
    }
}
