package io.evenwarm.agent.guard.health;

/** Whether one air probe still tells the air's temperature. */
final class ProbeHealth {

    private static final double FALLEN_KELVIN = 0.6;
    private static final double FALLEN_DISTURBED_KELVIN = 1.2;

    /** From about right to wrong within this time: it moved; nothing drifts so fast. */
    private static final int FAST_BLOCKS = 48;

    private static final double ABOUT_RIGHT_KELVIN = 0.2;
    private static final int FALLEN_BLOCKS = 3;
    private static final double DRIFT_KELVIN = 0.3;
    private static final double DRIFT_DEVIATIONS = 8;
    private static final int DRIFT_BLOCKS = 180;
    private static final int SWAP_BLOCKS = 90;

    /** Of two probes: hands swap them at once, and in the mean of ten minutes it shows by then. */
    private static final int SWAPPED_BLOCKS = 180;

    private static final double CLEARED_SHARE = 0.5;
    private static final int CLEARED_BLOCKS = 60;

    /**
     * Right again, but not put right: a room that has become as warm as the cabinet, or a neighbour
     * that went the same way, looks so too. A probe that hangs in the room is not right for a day.
     */
    private static final int CLEARED_FALLEN_BLOCKS = 24 * 360;

    private static final int CLEARED_DRIFT_BLOCKS = 6 * 360;

    /** What says the same for so long may be frozen: that is another trouble. */
    private static final double SAME_SECONDS = 120;

    private final FrozenSense frozen = new FrozenSense();
    private final ScatterSense scatter = new ScatterSense();
    private ProbeTrouble trouble = ProbeTrouble.NONE;
    private int blocksSinceRight;
    private boolean cameFast;
    private int fallenBlocks;
    private int driftBlocks;
    private int swapBlocks;
    private int clearBlocks;
    private int blocksSinceFar;
    private boolean isPutRight;
    private double raisedKelvin;

    FrozenSense frozen() {
        return frozen;
    }

    ScatterSense scatter() {
        return scatter;
    }

    ProbeTrouble trouble() {
        return trouble;
    }

    boolean isTrusted() {
        return trouble == ProbeTrouble.NONE || trouble == ProbeTrouble.SWAPPED;
    }

    /**
     * Takes a block in, after the senses have had theirs.
     *
     * @param index of this probe in the causes
     * @param deviationKelvin from the trusted others, over the last minute
     * @param fast the cause over the last minute or two
     * @param medium the cause over the last ten minutes
     * @param scatterKelvin standard deviation of medium deviations while sound
     * @param isOpen whether the door is open
     * @param isAirStill whether the fan is known to stand still: a place among the others then
     *     proves nothing
     * @param isDisturbed whether the layers are not as they should be for another reason
     */
    void take(
            int index,
            double deviationKelvin,
            LayerCauses fast,
            LayerCauses medium,
            double scatterKelvin,
            boolean isOpen,
            boolean isAirStill,
            boolean isDisturbed) {
        takeFrozen(deviationKelvin);
        takeNoise();
        if (trouble == ProbeTrouble.FROZEN || Double.isNaN(deviationKelvin)) {
            return;
        }
        double away = Math.abs(deviationKelvin);
        boolean isRight = away < ABOUT_RIGHT_KELVIN;
        blocksSinceRight = isRight ? 0 : blocksSinceRight + 1;
        boolean isAlone = fast.cause() == LayerCauses.Cause.PROBE && fast.probe() == index;
        double least = isDisturbed ? FALLEN_DISTURBED_KELVIN : FALLEN_KELVIN;
        boolean isFar = isAlone && Math.abs(fast.kelvin()) > least && !isOpen && !scatter.isLoud();
        if (!isFar) {
            fallenBlocks = 0;
        } else {
            if (fallenBlocks == 0) {
                cameFast = blocksSinceRight <= FAST_BLOCKS;
            }
            fallenBlocks++;
        }
        boolean isSwap =
                medium.cause() == LayerCauses.Cause.SWAP
                        && (medium.probe() == index || medium.other() == index)
                        && (!medium.isOfTwo()
                                || swapBlocks > 0
                                || blocksSinceRight <= SWAPPED_BLOCKS);
        if (!isOpen && !isDisturbed) {
            boolean isDrift =
                    medium.cause() == LayerCauses.Cause.PROBE
                            && medium.probe() == index
                            && Math.abs(medium.kelvin())
                                    > Math.max(DRIFT_KELVIN, DRIFT_DEVIATIONS * scatterKelvin);
            driftBlocks = isDrift ? driftBlocks + 1 : Math.max(0, driftBlocks - 2);
            swapBlocks = isSwap ? swapBlocks + 1 : 0;
        }
        boolean saysTheSame = frozen.sameSeconds() > SAME_SECONDS;
        if (fallenBlocks >= FALLEN_BLOCKS && cameFast && !saysTheSame) {
            raise(ProbeTrouble.FALLEN_OUT, fast.kelvin());
        } else if (trouble == ProbeTrouble.NONE && driftBlocks >= DRIFT_BLOCKS) {
            raise(ProbeTrouble.DRIFTING, medium.kelvin());
        } else if (trouble == ProbeTrouble.NONE && swapBlocks >= SWAP_BLOCKS) {
            raise(ProbeTrouble.SWAPPED, medium.kelvin());
        }
        clear(away, isSwap, isAirStill);
    }

    private void takeNoise() {
        if (trouble == ProbeTrouble.NONE && scatter.isNoisy()) {
            raise(ProbeTrouble.NOISY, scatter.stepKelvin());
        }
    }

    /** As far as it can be judged before the layers are learned. */
    void takeFrozen(double deviationKelvin) {
        // One that hangs in a still room may say the same for long: it fell out all the same.
        if (frozen.isFrozen() && trouble != ProbeTrouble.FALLEN_OUT) {
            raise(ProbeTrouble.FROZEN, deviationKelvin);
        } else if (trouble == ProbeTrouble.FROZEN) {
            trouble = ProbeTrouble.NONE;
        }
    }

    /** It drifts, as others found out. */
    void drifts(double kelvin) {
        raise(ProbeTrouble.DRIFTING, kelvin);
    }

    private void raise(ProbeTrouble newTrouble, double kelvin) {
        if (trouble != newTrouble) {
            trouble = newTrouble;
            raisedKelvin = Math.abs(kelvin);
            clearBlocks = 0;
        }
    }

    private void clear(double away, boolean isSwap, boolean isAirStill) {
        double far = Math.min(raisedKelvin, FALLEN_KELVIN);
        blocksSinceFar = away >= far ? 0 : blocksSinceFar + 1;
        boolean isBack =
                switch (trouble) {
                    case FALLEN_OUT -> away < CLEARED_SHARE * far;
                    case DRIFTING -> !isAirStill && away < CLEARED_SHARE * far;
                    case SWAPPED -> !isSwap && away < CLEARED_SHARE * raisedKelvin;
                    case NOISY -> !scatter.isNoisy();
                    case NONE, FROZEN -> false;
                };
        if (!isBack) {
            clearBlocks = 0;
            return;
        }
        if (clearBlocks == 0) {
            isPutRight = blocksSinceFar <= FAST_BLOCKS;
        }
        clearBlocks++;
        if (clearBlocks >= blocksToClear()) {
            trouble = ProbeTrouble.NONE;
            clearBlocks = 0;
        }
    }

    private int blocksToClear() {
        if (isPutRight) {
            return CLEARED_BLOCKS;
        }
        return switch (trouble) {
            case FALLEN_OUT -> CLEARED_FALLEN_BLOCKS;
            case DRIFTING -> CLEARED_DRIFT_BLOCKS;
            case SWAPPED, NOISY, NONE, FROZEN -> CLEARED_BLOCKS;
        };
    }

    /**
     * What is kept through a restart. For how long it usually says the same is not: that goes with
     * the relay's cycle, which another window or another tuning changes.
     */
    void learned(LearnedRows rows) {
        scatter.learned(rows.of("scatter"));
        if (rows.isReading()) {
            // How it got where it is, nobody saw: to the agent before it may have drifted there.
            blocksSinceRight = FAST_BLOCKS + 1;
            fallenBlocks = 0;
        }
    }
}
