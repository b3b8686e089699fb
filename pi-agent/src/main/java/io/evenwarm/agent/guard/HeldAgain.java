package io.evenwarm.agent.guard;

/**
 * Heat that comes back each time that it is let through again, although nobody commands it: a
 * heater that is stuck on shows so even before anything was learned of the cabinet.
 *
 * <p>Two signs tell. Heat was held back three times in hours in which hardly any was commanded. Or,
 * within minutes, the air fell each time that heat was held back and rose each time that it was let
 * through, with no command for heat in between: what a heater that obeys still has in it from
 * before does not come and go with the other relay.
 */
final class HeldAgain {

    /** Commanded off, but for a cycle or two. */
    private static final double NO_HEAT_SHARE = 0.05;

    /** Holds in a row, each within this time of the last, that can't be chance. */
    private static final int TELLING_HOLDS = 3;

    private static final long NEXT_WITHIN_NANOS = 3_600_000_000_000L;

    /** Without another hold for so long it is over. */
    private static final long FORGOTTEN_AFTER_NANOS = 4 * NEXT_WITHIN_NANOS;

    /** Three steps of a coarse thermometer: so far it must fall while held, and rise after. */
    private static final double SWING_KELVIN = 0.15;

    /** Such swings in a row, each of them a fall and a rise. */
    private static final int TELLING_SWINGS = 2;

    private boolean wasHolding;
    private int holds;
    private long lastHoldNanos;
    private double peakCelsius = Double.NaN;
    private double troughCelsius = Double.NaN;
    private int swings;

    /**
     * Takes a tick in.
     *
     * @param isHolding whether heat is held back for too much warmth
     * @param heatShare of the last minutes in which the heater was commanded on
     * @param wasHeaterOn whether it was commanded on since the last tick
     * @param warmestCelsius warmest good probe in the air; NaN when none is good
     * @return whether the heater seems stuck on since this tick
     */
    boolean update(
            boolean isHolding,
            double heatShare,
            boolean wasHeaterOn,
            double warmestCelsius,
            long nowNanos) {
        boolean wasTelling = isTelling();
        long since = nowNanos - lastHoldNanos;
        boolean isNewHold = isHolding && !wasHolding;
        if (isNewHold && heatShare < NO_HEAT_SHARE) {
            holds = since < NEXT_WITHIN_NANOS || isTelling() ? holds + 1 : 1;
            lastHoldNanos = nowNanos;
        } else if (since > (isTelling() ? FORGOTTEN_AFTER_NANOS : NEXT_WITHIN_NANOS)) {
            holds = 0;
        }
        swing(isHolding, isNewHold, wasHeaterOn, warmestCelsius);
        if (swings >= TELLING_SWINGS && !isTelling()) {
            holds = TELLING_HOLDS;
            lastHoldNanos = nowNanos;
        }
        wasHolding = isHolding;
        return isTelling() && !wasTelling;
    }

    private void swing(
            boolean isHolding, boolean isNewHold, boolean wasHeaterOn, double warmestCelsius) {
        if (wasHeaterOn || Double.isNaN(warmestCelsius)) {
            swings = 0;
            peakCelsius = Double.NaN;
            return;
        }
        if (isNewHold) {
            // Comparisons with NaN are false: before the first hold there was no swing.
            boolean isSwing =
                    peakCelsius - troughCelsius > SWING_KELVIN
                            && warmestCelsius - troughCelsius > SWING_KELVIN;
            swings = isSwing ? swings + 1 : 0;
            peakCelsius = warmestCelsius;
            troughCelsius = warmestCelsius;
        } else if (isHolding && warmestCelsius > peakCelsius) {
            peakCelsius = warmestCelsius;
            troughCelsius = warmestCelsius;
        } else {
            troughCelsius = Math.min(troughCelsius, warmestCelsius);
        }
    }

    private boolean isTelling() {
        return holds >= TELLING_HOLDS;
    }

    /** Whether the heater seems stuck on. */
    boolean isStuckOn() {
        return isTelling();
    }
}
