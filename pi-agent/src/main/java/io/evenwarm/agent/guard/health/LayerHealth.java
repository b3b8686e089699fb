package io.evenwarm.agent.guard.health;

import java.util.function.IntToDoubleFunction;

/**
 * What the layers of the air tell: of the fan, and of each probe beside its neighbours. Deviations
 * are looked at over a minute, ten minutes and an hour and a half.
 */
final class LayerHealth {

    private static final double FAST_SECONDS = 60;
    private static final double MEDIUM_SECONDS = 600;
    private static final double SLOW_SECONDS = 5400;
    private static final double FAST_LEAST_KELVIN = 0.08;
    private static final double FAST_DISTURBED_LEAST_KELVIN = 0.6;

    /**
     * While walls and tubs make good for a look, the layers part by 0.12 K and a quarter of the
     * usual at most, in eight sound terms.
     */
    private static final double FAST_AFTER_LOOK_LEAST_KELVIN = 0.15;

    private static final double MEDIUM_LEAST_KELVIN = 0.08;
    private static final double SLOW_LEAST_KELVIN = 0.04;
    private static final double FAINT_LEAST_KELVIN = 0.02;
    private static final double LEAST_DEVIATIONS = 5;

    /** Where the heat is new, the layers may be so many standard deviations elsewhere. */
    private static final double UNSURE_DEVIATIONS = 3;

    /** No real share of heat changes so much in a block: another supposition was taken up. */
    private static final double SHARE_JUMP = 0.05;

    private static final int NOBODY = -1;

    private final int count;
    private final double[] height;
    private final Layering layering;
    private final FanHealth fan = new FanHealth();
    private final StillLayers still;
    private final ProbeHealth[] probes;
    private final boolean[] isTrusted;
    private final Lag[] fast;
    private final Lag[] medium;
    private final Lag[] slow;
    private final double[] fastKelvin;
    private final double[] mediumKelvin;
    private final double[] slowKelvin;
    private final double[] readKelvin;
    private final Lag slowShare = Lag.fromMean(SLOW_SECONDS);
    private final Lag slowUnsure = Lag.fromMean(SLOW_SECONDS);
    private final double[] lineKelvin;
    private final LayerCauses fastCauses;
    private final LayerCauses mediumCauses;
    private final LayerCauses slowCauses;
    private final LayerCauses faintCauses;
    private final Deviations fastScatter = new Deviations();
    private final Deviations mediumScatter = new Deviations();
    private final Deviations slowScatter = new Deviations();
    private double sensedShare;
    private int movesAlone = NOBODY;

    /**
     * @param height of each probe, as in {@link LayerCauses}
     */
    LayerHealth(double[] height) {
        this.height = height;
        count = height.length;
        layering = new Layering(count);
        still = new StillLayers(height);
        probes = new ProbeHealth[count];
        isTrusted = new boolean[count];
        fast = new Lag[count];
        medium = new Lag[count];
        slow = new Lag[count];
        for (int i = 0; i < count; i++) {
            probes[i] = new ProbeHealth();
            isTrusted[i] = true;
            fast[i] = Lag.fromMean(FAST_SECONDS);
            medium[i] = Lag.fromMean(MEDIUM_SECONDS);
            slow[i] = Lag.fromMean(SLOW_SECONDS);
        }
        fastKelvin = new double[count];
        mediumKelvin = new double[count];
        slowKelvin = new double[count];
        readKelvin = new double[count];
        lineKelvin = new double[count];
        fastCauses = new LayerCauses(height);
        mediumCauses = new LayerCauses(height);
        slowCauses = new LayerCauses(height);
        faintCauses = new LayerCauses(height);
    }

    /** Takes a block's temperatures in; {@link #commonCelsius} is then this block's. */
    void take(BlockMeans block, double heatShare) {
        layering.take(block, heatShare, isTrusted);
    }

    /** What all trusted probes say, °C; NaN when none says anything. */
    double commonCelsius() {
        return layering.commonCelsius();
    }

    boolean isLearned() {
        return layering.isLearned();
    }

    Layering layering() {
        return layering;
    }

    FanHealth fan() {
        return fan;
    }

    ProbeHealth probe(int watched) {
        return probes[watched];
    }

    boolean[] trusted() {
        return isTrusted;
    }

    /**
     * What else is the matter in a block.
     *
     * @param isOpen the door is open, or hands are inside
     * @param isJustShut the door was shut minutes ago
     * @param isRecovered the cabinet has recovered from the last opening
     * @param isQuiet the same, and nothing interferes
     * @param isAfterLook it makes good for no more than a look, and nothing else disturbs it
     * @param isAfterWork it makes good for more than a look
     * @param isHeaterObeying nothing speaks against the heater
     * @param isHeaterHot more heat may come than is commanded
     * @param backShare of heat that may come from a heater that was taken to give nothing, 0 to 1
     */
    record Setting(
            boolean isOpen,
            boolean isJustShut,
            boolean isRecovered,
            boolean isQuiet,
            boolean isAfterLook,
            boolean isAfterWork,
            boolean isHeaterObeying,
            boolean isHeaterHot,
            double backShare) {

        boolean isSound() {
            return isQuiet && isHeaterObeying;
        }
    }

    /**
     * Judges the block that was taken in last.
     *
     * @return whether another set of probes is trusted from now on
     */
    boolean judge(BlockMeans blocks, double share, Setting setting) {
        boolean isSound = setting.isSound() && fan.verdict() != FanHealth.Verdict.STOPPED;
        boolean isComplete = true;
        if (layering.isLearned()) {
            slowShare.step(layering.lastingShare());
        }
        for (int i = 0; i < count; i++) {
            double deviation = layering.deviationKelvin(i);
            isComplete &= isTrusted[i] && !Double.isNaN(deviation);
            boolean counts = layering.isLearned() && !Double.isNaN(deviation);
            fastKelvin[i] = counts ? fast[i].step(deviation) : Double.NaN;
            mediumKelvin[i] = counts ? medium[i].step(deviation) : Double.NaN;
            slowKelvin[i] = counts ? slow[i].step(deviation) : Double.NaN;
        }
        boolean isLayered = fan.verdict() == FanHealth.Verdict.MIXES && noTrouble();
        // What parts the layers just now is not how they are at a heat that is new.
        boolean isAsKnown =
                layering.isInFirstDay()
                        || (slowCauses.cause() == LayerCauses.Cause.NONE
                                && mediumCauses.cause() == LayerCauses.Cause.NONE
                                && fastCauses.cause() == LayerCauses.Cause.NONE);
        if (isSound && isComplete && isLayered && isAsKnown) {
            learn(blocks, share);
        }
        senseProbes(blocks, share, setting, isSound);
        if (!layering.isLearned()) {
            for (ProbeHealth probe : probes) {
                probe.takeFrozen(0);
            }
            return retrust();
        }
        double unsure = UNSURE_DEVIATIONS * layering.unsureKelvin(slowScatter.kelvin());
        fastCauses.judge(
                trustedOnly(fastKelvin), layering, share, leastFastKelvin(unsure, setting));
        mediumCauses.judge(
                trustedOnly(mediumKelvin),
                layering,
                share,
                unsure + Math.max(MEDIUM_LEAST_KELVIN, LEAST_DEVIATIONS * mediumScatter.kelvin()));
        slowCauses.judge(
                trustedOnly(slowKelvin),
                layering,
                share,
                unsure + Math.max(SLOW_LEAST_KELVIN, LEAST_DEVIATIONS * slowScatter.kelvin()));
        faintCauses.judge(
                trustedOnly(slowKelvin),
                layering,
                share,
                // Of a heater that may give nothing it is not known what parts the layers.
                setting.isHeaterObeying() ? unsure + FAINT_LEAST_KELVIN : Double.POSITIVE_INFINITY);
        double fanUnsure =
                unsure
                        + Math.abs(halfGapKelvin(layering::bentKelvin))
                        + backKelvin(setting.backShare());
        // The slow means remember a heat that was new longer than it is there.
        double remembered = Math.max(0, slowUnsure.step(fanUnsure) - fanUnsure);
        fan.take(
                fastCauses,
                slowCauses,
                faintCauses,
                share,
                halfGapKelvin(i -> layering.expected(i, share)),
                slowScatter.kelvin(),
                fanUnsure,
                layering.youngKelvin() + remembered,
                setting.isOpen() || setting.isJustShut() || setting.isHeaterHot(),
                setting.isQuiet(),
                setting.isAfterWork());
        for (int i = 0; i < count; i++) {
            probes[i].take(
                    i,
                    Double.isNaN(layering.deviationKelvin(i)) ? Double.NaN : fast[i].value(),
                    fastCauses,
                    mediumCauses,
                    mediumScatter.kelvin(),
                    setting.isOpen(),
                    fan.verdict() == FanHealth.Verdict.STOPPED,
                    !setting.isQuiet()
                            || fan.verdict() != FanHealth.Verdict.MIXES
                            || !setting.isHeaterObeying());
        }
        judgeStillAir(blocks.heatShare(), setting);
        if (isSound && isLayered && isComplete) {
            fastScatter.take(fastKelvin);
            mediumScatter.take(mediumKelvin);
            slowScatter.take(slowKelvin);
        }
        return retrust();
    }

    private double leastFastKelvin(double unsure, Setting setting) {
        if (!setting.isQuiet() && !setting.isAfterLook()) {
            return FAST_DISTURBED_LEAST_KELVIN;
        }
        double least = setting.isQuiet() ? FAST_LEAST_KELVIN : FAST_AFTER_LOOK_LEAST_KELVIN;
        return unsure + Math.max(least, LEAST_DEVIATIONS * fastScatter.kelvin());
    }

    /**
     * Learns, and holds what the last hour and a half showed beside the line as it now is: else a
     * line that was learned wrong at first would seem a fan that slows, once it is put right.
     */
    private void learn(BlockMeans blocks, double share) {
        double meanShare = slowShare.value();
        for (int i = 0; i < count; i++) {
            lineKelvin[i] = layering.restsKelvin(i, meanShare);
        }
        layering.learn(blocks, share);
        if (layering.isLearned() && !layering.hasFirstLine()) {
            for (int i = 0; i < count; i++) {
                slow[i].shift(lineKelvin[i] - layering.restsKelvin(i, meanShare));
            }
        }
    }

    /** By how much heat that is back may part the layers farther than is expected without it, K. */
    private double backKelvin(double backShare) {
        return Math.max(0, halfGapKelvin(i -> layering.fromHeatKelvin(i, backShare)));
    }

    private void judgeStillAir(double commandedShare, Setting setting) {
        if (fan.verdict() != FanHealth.Verdict.STOPPED) {
            still.restart();
        } else {
            int drifting = still.take(fastKelvin, commandedShare, setting.isRecovered());
            if (drifting >= 0) {
                probes[drifting].drifts(mediumKelvin[drifting]);
            }
        }
    }

    /**
     * How much farther top and bottom part than the heat at hand explains, from the middle up; 0
     * when not both are there.
     */
    double partingKelvin() {
        return partingKelvin(fastKelvin);
    }

    /** The same over the last hour or two. */
    double slowPartingKelvin() {
        return partingKelvin(slowKelvin);
    }

    /**
     * Half of what the top is warmer than the bottom, K; NaN when a probe is set aside or missing,
     * or there is none at the top or none at the bottom.
     */
    double halfGapKelvin(BlockMeans block) {
        for (int i = 0; i < count; i++) {
            readKelvin[i] = isTrusted[i] ? block.celsius(i) : Double.NaN;
            if (Double.isNaN(readKelvin[i])) {
                return Double.NaN;
            }
        }
        double half = partingKelvin(readKelvin);
        return half == 0 ? Double.NaN : half;
    }

    private double partingKelvin(double[] deviation) {
        double up = 0;
        int top = 0;
        double down = 0;
        int bottom = 0;
        for (int i = 0; i < count; i++) {
            double away = deviation[i];
            if (Double.isNaN(away)) {
                continue;
            }
            if (height[i] == 1) {
                up += away;
                top++;
            } else if (height[i] == -1) {
                down += away;
                bottom++;
            }
        }
        return top == 0 || bottom == 0 ? 0 : (up / top - down / bottom) / 2;
    }

    private double[] trustedOnly(double[] values) {
        for (int i = 0; i < values.length; i++) {
            if (!isTrusted[i]) {
                values[i] = Double.NaN;
            }
        }
        return values;
    }

    private void senseProbes(BlockMeans blocks, double share, Setting setting, boolean isSound) {
        boolean isMixed = setting.isHeaterObeying() && fan.verdict() != FanHealth.Verdict.STOPPED;
        boolean hasJumped = Math.abs(share - sensedShare) > SHARE_JUMP || layering.hasFirstLine();
        sensedShare = share;
        // One that moves alone, as one that falls out, is nobody's neighbour.
        int alone = fastCauses.cause() == LayerCauses.Cause.PROBE ? fastCauses.probe() : NOBODY;
        boolean isOther = alone != movesAlone;
        for (int i = 0; i < count; i++) {
            double sum = 0;
            int present = 0;
            for (int j = 0; j < count; j++) {
                double value = blocks.celsius(j);
                if (j != i && j != alone && isTrusted[j] && !Double.isNaN(value)) {
                    sum += value - layering.expected(j, share);
                    present++;
                }
            }
            double expected =
                    present == 0 ? Double.NaN : sum / present + layering.expected(i, share);
            probes[i]
                    .frozen()
                    .take(
                            blocks.wasSame(i),
                            blocks.samples(i),
                            expected,
                            share,
                            hasJumped
                                    || (isOther
                                            && (isAnother(alone, i) || isAnother(movesAlone, i))),
                            isSound,
                            isMixed);
            probes[i]
                    .scatter()
                    .take(
                            blocks.meanSquaredStep(i),
                            blocks.samples(i),
                            setting.isQuiet() && !setting.isOpen(),
                            loudestSquaredStep(i));
        }
        movesAlone = alone;
    }

    private static boolean isAnother(int alone, int i) {
        return alone != NOBODY && alone != i;
    }

    /** The largest {@link ScatterSense#squaredStep()} of the probes but this one, K². */
    double loudestSquaredStep(int butWatched) {
        double loudest = 0;
        for (int i = 0; i < count; i++) {
            if (i != butWatched) {
                loudest = Math.max(loudest, probes[i].scatter().squaredStep());
            }
        }
        return loudest;
    }

    private boolean noTrouble() {
        for (ProbeHealth probe : probes) {
            if (probe.trouble() != ProbeTrouble.NONE) {
                return false;
            }
        }
        return true;
    }

    private double halfGapKelvin(IntToDoubleFunction away) {
        double product = 0;
        double squares = 0;
        for (int i = 0; i < count; i++) {
            if (!Double.isNaN(height[i]) && isTrusted[i]) {
                product += height[i] * away.applyAsDouble(i);
                squares += height[i] * height[i];
            }
        }
        return squares == 0 ? 0 : product / squares;
    }

    /** Takes a probe in trouble out of what is common, but never the last one. */
    private boolean retrust() {
        int left = 0;
        for (ProbeHealth probe : probes) {
            left += probe.isTrusted() ? 1 : 0;
        }
        boolean isChanged = false;
        for (int i = 0; i < count; i++) {
            boolean trust = left == 0 || probes[i].isTrusted();
            isChanged |= trust != isTrusted[i];
            isTrusted[i] = trust;
        }
        return isChanged;
    }

    /** What is kept through a restart. */
    void learned(LearnedRows rows) {
        layering.learned(rows.of("lasting"));
        fastScatter.learned(rows.of("fast"));
        mediumScatter.learned(rows.of("medium"));
        slowScatter.learned(rows.of("slow"));
        for (int i = 0; i < count; i++) {
            probes[i].learned(rows.of("probe-" + i));
        }
    }
}
