package io.evenwarm.agent.loop;

import io.evenwarm.agent.port.CommandIntake;
import io.evenwarm.agent.port.Watchdog;
import io.evenwarm.message.BootId;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.Moment;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Consumer;
import java.util.function.LongConsumer;

/**
 * Ticks all cabinets once a second.
 *
 * <p><b>Threads.</b> {@link #step} belongs to one thread: the control thread once {@link #start}
 * was called. {@link #submit} and {@link #close} may be called from any.
 *
 * <p>Ticks are due at fixed times of the monotonic clock. In real time a tick that was missed is
 * left out: the world did not wait. On a clock that runs faster, missed ticks are made up for, so
 * that each simulated second has its tick whatever the machine does in between.
 */
public final class AgentLoop implements CommandIntake, AutoCloseable {

    static final long PERIOD_NANOS = 1_000_000_000L;

    /** A made-up backlog has an end, so that a suspended machine does not wake up to a week. */
    static final long MOST_MADE_UP_TICKS = 3600;

    private static final System.Logger LOG = System.getLogger(AgentLoop.class.getName());
    private static final long JOIN_MILLIS = 2000;

    private final List<CabinetLoop> cabinets;
    private final BootId boot;
    private final LoopClock clock;
    private final List<LongConsumer> beforeTick;
    private final Watchdog watchdog;
    private final List<LapseTimer> lapseTimers;
    private volatile boolean isClosed;
    private volatile boolean isStarted;
    private final Thread thread;
    private volatile Consumer<Throwable> whenDead = cause -> {};

    /** As the other constructor, with nobody outside who watches. */
    public AgentLoop(
            List<CabinetLoop> cabinets,
            BootId boot,
            LoopClock clock,
            List<LongConsumer> beforeTick) {
        this(cabinets, boot, clock, beforeTick, Watchdog.NONE);
    }

    /**
     * @param cabinets owned by this from here on
     * @param boot the boot of all moments
     * @param clock the clocks
     * @param beforeTick called with the tick's time before the cabinets: what moves along with the
     *     ticks, as simulated cabinets do
     * @param watchdog told of each completed tick
     */
    public AgentLoop(
            List<CabinetLoop> cabinets,
            BootId boot,
            LoopClock clock,
            List<LongConsumer> beforeTick,
            Watchdog watchdog) {
        this.cabinets = List.copyOf(cabinets);
        this.boot = boot;
        this.clock = clock;
        this.beforeTick = List.copyOf(beforeTick);
        this.watchdog = watchdog;
        List<LapseTimer> timers = new ArrayList<>();
        for (CabinetLoop cabinet : cabinets) {
            timers.add(
                    new LapseTimer(
                            cabinet.cabinet(),
                            cabinet.gate(),
                            clock.real(),
                            LapseTimer.DEFAULT_LIMIT_NANOS));
        }
        lapseTimers = List.copyOf(timers);
        thread = new Thread(this::run, "control");
    }

    /**
     * Starts the control thread and the lapse timers.
     *
     * @param whenDead called in the control thread when it ends other than by {@link #close}; all
     *     lines are off by then
     */
    public void start(Consumer<Throwable> whenDead) {
        this.whenDead = whenDead;
        isStarted = true;
        lapseTimers.forEach(LapseTimer::start);
        thread.start();
    }

    /**
     * One tick of every cabinet. The watchdog hears of it when each of them was gone through; a
     * cabinet whose tick failed and drove its own lines off was.
     *
     * @param nowNanos time on the tick clock, later than the last step's
     */
    public void step(long nowNanos) {
        // Whoever vouches for the clock has set it before: asked in this order, a time from before
        // the setting never counts as trusted.
        boolean isTrusted = clock.wall().isTrusted();
        Moment now = new Moment(boot, nowNanos, clock.wallAt(nowNanos), isTrusted);
        for (LongConsumer hook : beforeTick) {
            hook.accept(nowNanos);
        }
        boolean isWhole = true;
        for (CabinetLoop cabinet : cabinets) {
            try {
                cabinet.tick(now);
            } catch (RuntimeException e) {
                // A tick contains its own faults; this is for a fault in the containing.
                isWhole = false;
                cabinet.gate().driveOff();
                LOG.log(
                        System.Logger.Level.ERROR,
                        "cabinet " + cabinet.cabinet() + ": tick failed, lines off",
                        e);
            }
        }
        if (isWhole) {
            watchdog.tickCompleted();
        }
    }

    @Override
    public void submit(Command command, Consumer<CommandOutcome> answer) {
        for (CabinetLoop cabinet : cabinets) {
            if (cabinet.cabinet().equals(command.cabinet())) {
                cabinet.submit(command, answer);
                return;
            }
        }
        StringBuilder names = new StringBuilder();
        for (CabinetLoop cabinet : cabinets) {
            names.append(names.isEmpty() ? "" : ", ").append(cabinet.cabinet());
        }
        answer.accept(
                new CommandOutcome.Refused(
                        "There is no cabinet \""
                                + command.cabinet()
                                + "\" here. There are: "
                                + names));
    }

    private void run() {
        try {
            runTicks();
        } catch (RuntimeException | Error e) {
            closeCabinets();
            LOG.log(System.Logger.Level.ERROR, "the control thread died; all lines are off", e);
            whenDead.accept(e);
        }
    }

    private void runTicks() {
        long dueNanos = clock.ticks().nanos();
        while (!isClosed) {
            long nowNanos = clock.ticks().nanos();
            long earlyNanos = dueNanos - nowNanos;
            if (earlyNanos > 0) {
                LockSupport.parkNanos((long) Math.ceil(earlyNanos / clock.speed()));
                continue;
            }
            if (clock.speed() > 1) {
                dueNanos = Math.max(earlyNanos, -MOST_MADE_UP_TICKS * PERIOD_NANOS) + nowNanos;
                step(dueNanos);
                dueNanos += PERIOD_NANOS;
            } else {
                step(nowNanos);
                dueNanos += (1 - earlyNanos / PERIOD_NANOS) * PERIOD_NANOS;
            }
        }
    }

    private void closeCabinets() {
        cabinets.forEach(CabinetLoop::close);
    }

    /**
     * Drives every line of every cabinet off for good, then ends the control thread. May be
     * repeated.
     */
    @Override
    public void close() {
        isClosed = true;
        closeCabinets();
        lapseTimers.forEach(LapseTimer::close);
        if (isStarted && Thread.currentThread() != thread) {
            LockSupport.unpark(thread);
            try {
                thread.join(JOIN_MILLIS);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }
    }
}
