package io.evenwarm.agent.guard.health;

/**
 * Whether the heater does what it is told.
 *
 * <p>Three suppositions run side by side on the same readings: it obeys; it gives nothing; it is
 * always on. Block by block, the logarithm of the likelihood ratio between the one that holds and
 * each of the others is added up, never below 0 (Page's cumulative sum test, Biometrika 41 (1954)
 * 100, from memory). A supposition that is not better than the one that holds starts anew from it,
 * so that the moment of failing need not be known.
 *
 * <p>A heater that gives a part of its heat lies between the first two, and half a heat that goes
 * looks like none: so {@link PartOfHeat} must be the worse explanation before one is taken to give
 * nothing, and when it turns out to be the better one, it obeys after all.
 *
 * <p>A block counts as evidence only where the other supposition explains most of what the one that
 * holds can't: an open door surprises all of them. And what a heater that obeys and is stronger
 * than before would do, too, speaks for none that is always on: somebody has mended a weak one.
 */
final class HeaterHealth {

    enum Verdict {
        OBEYS,
        GIVES_NOTHING,
        ALWAYS_ON
    }

    /** Evidence at which a supposition is believed: odds of e to the 12. */
    static final double BELIEVED = 12;

    /** There is more time for this, and half the heat looks like none for a while. */
    private static final double BELIEVED_DEAD = 24;

    /** A heater that failed once must be seen to obey for at least ten minutes. */
    private static final double BELIEVED_AGAIN = 60;

    private static final double LEAST_TELLING_SHARE = 0.02;

    /** At a trip of the cut-off less is enough: something did heat the air up to there. */
    private static final double BELIEVED_AT_TRIP = 3;

    /**
     * And what speaks for it against a heater that gives a part: little, for what comes after tells
     * more, and when that speaks for a part it is taken back before anybody is told.
     */
    private static final double BELIEVED_BEFORE_A_PART = 3;

    /** At half of what is believed learning stops, so that a fault is not learned as the usual. */
    private static final double SUSPECTED = BELIEVED / 2;

    /** The air's unexplained movement keeps its direction for about this many blocks. */
    private static final double BLOCKS_ALIKE = 6;

    private static final double MOST_A_BLOCK = 4;

    /** The other supposition must leave less than this share of the squared surprise. */
    private static final double LEFT_SHARE = 0.3;

    /** The first minute of a strong heater is not well known, and there is no time to lose. */
    private static final double ALWAYS_ON_LEFT_SHARE = 0.5;

    /** With a heater that is nearly always on by command, always on is no different. */
    private static final double LEAST_EXCESS_SHARE = 0.1;

    private static final double FORGETS_A_BLOCK = 0.1;

    /** Well within what is usual: no failing has begun before this. */
    private static final double USUAL_DEVIATIONS = 1.5;

    private static final int LONGEST_BLOCKS = 240;

    /** A heater that gives nothing is supposed to begin anew this often, while it does not. */
    private static final int BEGINS_AGAIN_BLOCKS = 30;

    /** How far from the set point the air must be for a failed heater to matter. */
    static final double WARM_MARGIN_KELVIN = 0.2;

    /** After an open door the heater has much to make good, and overshoots. */
    static final double WARM_MARGIN_AFTER_DOOR_KELVIN = 1.0;

    private static final double COLD_MARGIN_KELVIN = -0.05;

    /**
     * Where next to no heat is needed the air strays farther than that by itself, and a heater that
     * gives nothing does not matter before it has got colder and more is asked for.
     */
    private static final double COLD_MARGIN_WITHOUT_NEED_KELVIN = -0.2;

    private static final double NO_NEED_SHARE = 0.05;

    private final HeatModel holding = new HeatModel();
    private final HeatModel first = new HeatModel();
    private final HeatModel second = new HeatModel();
    private final HeatModel anew = new HeatModel();
    private Verdict verdict = Verdict.OBEYS;
    private Lag slowApart = new Lag(HeatModel.LEVEL_SECONDS);
    private final StrongerHeater stronger = new StrongerHeater();
    private double firstSum;
    private Lag anewSlowApart = new Lag(HeatModel.LEVEL_SECONDS);
    private double secondSum;
    private double anewSum;
    private int anewBlocks;
    private int firstBlocks;
    private int secondBlocks;
    private boolean isCut;
    private boolean isKnownWeak;
    private double scatterKelvin;
    private final HeatAnswer answer = new HeatAnswer();
    private final PartOfHeat part = new PartOfHeat();

    /** Air that goes on falling is not heated again, however slowly it falls. */
    private boolean isFallingStill;

    private final Lag recent = new Lag(HeatResponse.WASHOUT_SECONDS);
    private boolean hasStarted;
    private double warmMarginKelvin = WARM_MARGIN_KELVIN;

    /** All begins anew from what is read now: something else moved the air. */
    void restart(HeatResponse response, double celsius) {
        holding.startFrom(response, celsius);
        first.startFrom(holding);
        second.startFrom(holding);
        stronger.restart(holding);
        if (verdict == Verdict.GIVES_NOTHING) {
            answer.restart(celsius);
            // A look inside does not unsay what the minutes before it said.
            part.goOn(holding);
        } else {
            part.restart(holding);
        }
        anew.startFrom(holding);
        firstSum = 0;
        secondSum = 0;
        anewSum = 0;
        anewBlocks = 0;
        hasStarted = true;
    }

    /** As {@link #restart}, and the heater counts as obeying. */
    void forgive(HeatResponse response, double celsius) {
        verdict = Verdict.OBEYS;
        restart(response, celsius);
    }

    /**
     * Takes a block in.
     *
     * @param heatShare commanded, 0 to 1
     * @param celsius of the air
     * @param setPointCelsius what the air should be
     * @param response learned
     * @param isAfterDoor whether the air still makes good for an open door
     * @param isCut whether the cut-off relay stood open, so that no heat came whatever the heater's
     *     own relay did
     * @param isSettled whether a failing that is believed has been told to a person: then it takes
     *     more to take it back
     */
    void take(
            double heatShare,
            double celsius,
            double setPointCelsius,
            HeatResponse response,
            boolean isAfterDoor,
            boolean isCut,
            boolean isSettled) {
        warmMarginKelvin = isAfterDoor ? WARM_MARGIN_AFTER_DOOR_KELVIN : WARM_MARGIN_KELVIN;
        if (!response.isLearned()) {
            return;
        }
        if (!hasStarted) {
            restart(response, celsius);
        }
        double k = response.kelvin();
        double scatter = response.scatterKelvin();
        this.isCut = isCut;
        scatterKelvin = scatter;
        isFallingStill = verdict == Verdict.GIVES_NOTHING && !isSettled && celsius < recent.value();
        recent.step(celsius);
        holding.step(given(verdict, heatShare), celsius, k);
        double offset = celsius - setPointCelsius;
        firstSum =
                step(first, firstAlternative(), firstSum, heatShare, celsius, k, scatter, offset);
        firstBlocks = restartIfIdle(first, firstSum, firstBlocks, scatter);
        part.step(given(Verdict.OBEYS, heatShare), celsius, k, perSquaredKelvin(scatter));
        if (firstBlocks == 0 && verdict == Verdict.OBEYS) {
            part.restart(holding);
        }
        answer.take(given(Verdict.OBEYS, heatShare), celsius, response);
        if (firstSum == 0 && verdict == Verdict.OBEYS) {
            answer.restart();
        }
        if (verdict == Verdict.GIVES_NOTHING && !isSettled && isTakenBack(response)) {
            return;
        }
        stronger.step(given(Verdict.OBEYS, heatShare), celsius, k);
        if (verdict == Verdict.OBEYS) {
            secondSum =
                    step(
                            second,
                            Verdict.ALWAYS_ON,
                            secondSum,
                            heatShare,
                            celsius,
                            k,
                            scatter,
                            offset);
            secondBlocks = restartIfIdle(second, secondSum, secondBlocks, scatter);
            if (secondBlocks == 0) {
                stronger.isUsual(holding);
            }
            if (secondSum > BELIEVED) {
                believe(Verdict.ALWAYS_ON, second);
                return;
            }
        }
        if (verdict == Verdict.GIVES_NOTHING) {
            beginAnew(heatShare, celsius, k, scatter, offset);
            if (anewSum > needed(isSettled)) {
                believe(Verdict.OBEYS, anew);
                return;
            }
        }
        if (firstSum > needed(isSettled)) {
            if (verdict == Verdict.OBEYS
                    && (answer.isClear(response) || part.againstBest() < BELIEVED_BEFORE_A_PART)) {
                return;
            }
            if (verdict == Verdict.OBEYS && first.surpriseKelvin() > 0) {
                // What is left of the time before the heat went must not pass for heat that is
                // back.
                first.settle(celsius, k);
            }
            believe(firstAlternative(), first);
        }
    }

    /**
     * What came since it was taken to give nothing, and before anybody was told, may show that it
     * gives something.
     */
    private boolean isTakenBack(HeatResponse response) {
        boolean isAnswered = answer.isClear(response);
        if (!isAnswered && part.againstBest() >= -SUSPECTED) {
            return false;
        }
        believe(Verdict.OBEYS, isAnswered ? part.mostModel() : part.bestModel());
        part.restart(holding);
        answer.restart();
        return true;
    }

    /** Whether the heater is known to be weak, so that somebody may mend it any time. */
    void setKnownWeak(boolean known) {
        isKnownWeak = known;
    }

    /**
     * A heater that heats again after hours at full command: it begins now, and not long ago, else
     * the heat that is back would pass for the cabinet's own level.
     */
    private void beginAnew(
            double heatShare, double celsius, double k, double scatter, double offset) {
        anewSum = step(anew, Verdict.OBEYS, anewSum, heatShare, celsius, k, scatter, offset);
        anewBlocks++;
        if (anewSum == 0 && anewBlocks >= BEGINS_AGAIN_BLOCKS) {
            anew.startFrom(holding);
            anewBlocks = 0;
        }
    }

    /**
     * Guard cuts the heat off: what speaks for a heater that is always on is weighed a last time.
     */
    void cutOff() {
        double mine = holding.surpriseKelvin();
        double its = second.surpriseKelvin();
        boolean isClear = mine > 0 && its * its < LEFT_SHARE * mine * mine;
        if (verdict == Verdict.OBEYS && secondSum > BELIEVED_AT_TRIP && isClear) {
            believe(Verdict.ALWAYS_ON, second);
        }
    }

    /** The heater is always on, as something else than its own effect on the air has shown. */
    void believeAlwaysOn(HeatResponse response, double celsius) {
        verdict = Verdict.ALWAYS_ON;
        restart(response, celsius);
    }

    private double needed(boolean isSettled) {
        if (verdict == Verdict.OBEYS) {
            return BELIEVED_DEAD;
        }
        return isSettled ? BELIEVED_AGAIN : BELIEVED;
    }

    private Verdict firstAlternative() {
        return verdict == Verdict.OBEYS ? Verdict.GIVES_NOTHING : Verdict.OBEYS;
    }

    private double given(Verdict supposed, double commanded) {
        if (isCut) {
            return 0;
        }
        return switch (supposed) {
            case OBEYS -> commanded;
            case GIVES_NOTHING -> 0;
            case ALWAYS_ON -> 1;
        };
    }

    private double step(
            HeatModel other,
            Verdict supposed,
            double sum,
            double heatShare,
            double celsius,
            double k,
            double scatter,
            double offset) {
        other.step(given(supposed, heatShare), celsius, k);
        double mine = holding.surpriseKelvin();
        double its = other.surpriseKelvin();
        double gain = (mine * mine - its * its) * perSquaredKelvin(scatter);
        if (supposed == Verdict.OBEYS) {
            return Math.max(0, sum + againGain(other, gain));
        }
        double leftShare = supposed == Verdict.ALWAYS_ON ? ALWAYS_ON_LEFT_SHARE : LEFT_SHARE;
        if (gain > 0 && (its * its > leftShare * mine * mine || !fits(supposed, mine, offset))) {
            gain = -FORGETS_A_BLOCK;
        }
        return Math.max(0, sum + Math.max(-MOST_A_BLOCK, Math.min(MOST_A_BLOCK, gain)));
    }

    /** Evidence for each square of a kelvin that a supposition leaves less of than another. */
    private static double perSquaredKelvin(double scatter) {
        return 1 / (2 * scatter * scatter) / BLOCKS_ALIKE;
    }

    /**
     * What a block says for a heater that obeys again: nothing while it was cut off, or while it
     * was commanded to do what the failing would do anyway, or the same for long: then both would
     * look alike by now.
     */
    private double againGain(HeatModel other, double gain) {
        double apart = other.share() - holding.share();
        double usualApart = (other == anew ? anewSlowApart : slowApart).step(apart);
        boolean tells = !isCut && Math.abs(apart - usualApart) > LEAST_TELLING_SHARE;
        double most = isFallingStill ? 0 : 1;
        return tells ? Math.max(-1, Math.min(most, gain)) : 0;
    }

    /** Whether the surprise goes the way that the supposed failing would take it. */
    private boolean fits(Verdict supposed, double surpriseKelvin, double offsetKelvin) {
        return supposed == Verdict.ALWAYS_ON
                ? surpriseKelvin > 0
                        && offsetKelvin > warmMarginKelvin
                        && second.share() - holding.share() > LEAST_EXCESS_SHARE
                        && !stronger.explains(
                                second.surpriseKelvin(), isKnownWeak ? scatterKelvin : 0)
                : surpriseKelvin < 0 && offsetKelvin < coldMarginKelvin();
    }

    private double coldMarginKelvin() {
        double need = Math.min(1, holding.share() / NO_NEED_SHARE);
        return COLD_MARGIN_WITHOUT_NEED_KELVIN
                + need * (COLD_MARGIN_KELVIN - COLD_MARGIN_WITHOUT_NEED_KELVIN);
    }

    private int restartIfIdle(HeatModel other, double sum, int blocks, double scatter) {
        if (verdict != Verdict.OBEYS) {
            // Whether it obeys again shows only once this model has found the air's level.
            return blocks + 1;
        }
        boolean isUsual = Math.abs(holding.surpriseKelvin()) < USUAL_DEVIATIONS * scatter;
        if (sum == 0 && (isUsual || blocks > LONGEST_BLOCKS)) {
            other.startFrom(holding);
            return 0;
        }
        return blocks + 1;
    }

    private void believe(Verdict believed, HeatModel model) {
        holding.startFrom(model);
        verdict = believed;
        slowApart = new Lag(HeatModel.LEVEL_SECONDS);
        anewSlowApart = new Lag(HeatModel.LEVEL_SECONDS);
        first.startFrom(holding);
        second.startFrom(holding);
        stronger.restart(holding);
        anew.startFrom(holding);
        firstSum = 0;
        secondSum = 0;
        anewSum = 0;
        anewBlocks = 0;
    }

    Verdict verdict() {
        return verdict;
    }

    /** Whether all is as usual, so that something may be learned. */
    boolean isUnsuspected() {
        return verdict == Verdict.OBEYS && firstSum < SUSPECTED && secondSum < SUSPECTED;
    }

    /** Share of heat that reaches the air, by the supposition that holds or is about to. */
    double shareInAir() {
        if (verdict == Verdict.OBEYS && secondSum > BELIEVED / 4) {
            return second.share();
        }
        if (verdict == Verdict.OBEYS && firstSum > BELIEVED / 4) {
            return part.againstBest() < 0 ? part.bestModel().share() : first.share();
        }
        return holding.share();
    }

    /** How far the air is from what is expected, K. */
    double surpriseKelvin() {
        return holding.surpriseKelvin();
    }

    /** Evidence that the heater is always on, 0 to {@value #BELIEVED}. */
    double alwaysOnEvidence() {
        return secondSum;
    }
}
