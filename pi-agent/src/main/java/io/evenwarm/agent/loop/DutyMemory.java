package io.evenwarm.agent.loop;

import io.evenwarm.agent.port.HeldDuty;
import io.evenwarm.agent.port.HeldDutyStore;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.Moment;
import java.time.Duration;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Keeps which duty holds the cabinet, and says after a start whether what was kept still counts.
 * Without it control begins at no heat, and the air sinks until it has found the duty again. It is
 * a place to begin from and no more: control goes on from there by what it reads, and whether there
 * is any heat guard says as ever.
 *
 * <p>Called by the control thread only.
 */
final class DutyMemory {

    private static final long EACH_NANOS = 600 * 1_000_000_000L;

    /** The weather changes what a cabinet needs by little within this. */
    private static final Duration FRESH = Duration.ofHours(1);

    /** Where no clock tells how old it is, air so near the set point was not long without heat. */
    private static final double NEAR_KELVIN = 0.75;

    /** Another set point needs another duty. */
    private static final double SAME_SET_POINT_KELVIN = 0.5;

    private final HeldDutyStore store;
    private Optional<HeldDuty> kept;
    private boolean hasStarted;
    private long dueAtNanos;

    DutyMemory(CabinetName cabinet, HeldDutyStore store) {
        this.store = store;
        this.kept = store.load(cabinet);
    }

    /**
     * The duty to begin with; only once, at the first tick with heat after the start.
     *
     * @param setPointCelsius in force
     * @param processCelsius now
     */
    OptionalDouble take(Moment now, double setPointCelsius, double processCelsius) {
        Optional<HeldDuty> before = kept;
        kept = Optional.empty();
        return before.isPresent() && counts(before.get(), now, setPointCelsius, processCelsius)
                ? OptionalDouble.of(before.get().duty())
                : OptionalDouble.empty();
    }

    private static boolean counts(
            HeldDuty held, Moment now, double setPointCelsius, double processCelsius) {
        if (Math.abs(held.setPointCelsius() - setPointCelsius) > SAME_SET_POINT_KELVIN) {
            return false;
        }
        if (held.isWallTrusted() && now.wallTrusted()) {
            Duration age = Duration.between(held.wall(), now.wall());
            return !age.isNegative() && age.compareTo(FRESH) <= 0;
        }
        return Math.abs(processCelsius - setPointCelsius) <= NEAR_KELVIN;
    }

    /**
     * Saves when it is time.
     *
     * @param duty what holds the cabinet now; empty while it is not held
     */
    void saveWhenDue(StateNotes notes, Moment now, double setPointCelsius, OptionalDouble duty) {
        long nowNanos = now.monotonicNanos();
        if (!hasStarted) {
            hasStarted = true;
            dueAtNanos = nowNanos + EACH_NANOS;
        }
        if (duty.isPresent() && nowNanos - dueAtNanos >= 0) {
            dueAtNanos = nowNanos + EACH_NANOS;
            notes.save(
                    store,
                    new HeldDuty(
                            duty.getAsDouble(), setPointCelsius, now.wall(), now.wallTrusted()));
        }
    }
}
