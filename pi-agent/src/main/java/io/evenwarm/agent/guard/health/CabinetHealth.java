package io.evenwarm.agent.guard.health;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import java.util.Arrays;

/**
 * All that is learned of one cabinet, and what it says of heater, fan, door and probes. Works in
 * blocks of {@value BlockMeans#SECONDS} s, so that a tick costs little.
 */
public final class CabinetHealth {

    private static final double LONGEST_RECOVERY_SECONDS = 36_000;

    /** Walls and tubs need so many times as long to warm again as they were open. */
    private static final double RECOVERY_TIMES = 12;

    /** What a person's hands or an open door did to the air has gone after this long. */
    private static final double QUIET_AFTER_SECONDS = 1800;

    /** For so long after a door was shut, the walls warm the air and not the heater. */
    private static final double RECOVERY_SECONDS = 600;

    private static final double FAST_SECONDS = 60;
    private static final double MEDIUM_SECONDS = 600;
    private static final double SLOW_SECONDS = 5400;
    private static final double FAST_LEAST_KELVIN = 0.08;
    private static final double FAST_DISTURBED_LEAST_KELVIN = 0.6;
    private static final double MEDIUM_LEAST_KELVIN = 0.08;
    private static final double SLOW_LEAST_KELVIN = 0.04;
    private static final double LEAST_DEVIATIONS = 5;
    private static final double STUCK_DEVIATIONS = 3;

    /** A stopped fan shows first in the middle, as less heat; by then it is known for a fan. */
    private static final int DEAD_BLOCKS = 54;

    /** No real share of heat changes so much in a block: another supposition was taken up. */
    private static final double SHARE_JUMP = 0.05;

    /** A tick this late was a pause: what the air did meanwhile is not known. */
    private static final double PAUSE_SECONDS = 20;

    private final int[] probes;
    private final int[] watchedOf;
    private final double[] height;
    private final BlockMeans blocks;
    private final HeatResponse response = new HeatResponse();
    private final HeaterHealth heater = new HeaterHealth();
    private final HeaterStrength strength = new HeaterStrength();
    private final PlainRules plain = new PlainRules();
    private final Layering layering;
    private final DoorSense door;
    private final FanHealth fan = new FanHealth();
    private final ProbeHealth[] health;
    private final boolean[] isTrusted;
    private final Lag[] fast;
    private final Lag[] medium;
    private final Lag[] slow;
    private final double[] fastKelvin;
    private final double[] mediumKelvin;
    private final double[] slowKelvin;
    private final LayerCauses fastCauses;
    private final LayerCauses mediumCauses;
    private final LayerCauses slowCauses;
    private final Deviations fastScatter = new Deviations();
    private final Deviations mediumScatter = new Deviations();
    private final Deviations slowScatter = new Deviations();
    private boolean wasLearned;
    private boolean wasInterfered;
    private double openedSeconds;
    private double recoverySeconds;
    private int stoppedHeatBlocks;
    private double sensedShare;

    public CabinetHealth(CabinetPlan plan) {
        this(airProbes(plan), plan.probes().size(), heights(plan));
    }

    CabinetHealth(int[] probes, int allProbes, double[] height) {
        this.probes = probes;
        this.height = height;
        int count = probes.length;
        watchedOf = new int[allProbes];
        Arrays.fill(watchedOf, -1);
        for (int i = 0; i < count; i++) {
            watchedOf[probes[i]] = i;
        }
        blocks = new BlockMeans(probes);
        layering = new Layering(count);
        door = new DoorSense(count);
        health = new ProbeHealth[count];
        isTrusted = new boolean[count];
        fast = new Lag[count];
        medium = new Lag[count];
        slow = new Lag[count];
        for (int i = 0; i < count; i++) {
            health[i] = new ProbeHealth();
            isTrusted[i] = true;
            fast[i] = new Lag(FAST_SECONDS);
            medium[i] = new Lag(MEDIUM_SECONDS);
            slow[i] = new Lag(SLOW_SECONDS);
        }
        fastKelvin = new double[count];
        mediumKelvin = new double[count];
        slowKelvin = new double[count];
        fastCauses = new LayerCauses(height);
        mediumCauses = new LayerCauses(height);
        slowCauses = new LayerCauses(height);
    }

    private static int[] airProbes(CabinetPlan plan) {
        int[] found = new int[plan.probes().size()];
        int count = 0;
        for (int i = 0; i < found.length; i++) {
            ProbePlan probe = plan.probes().get(i);
            if (probe.sensor().isThermometer() && probe.place().kind().isAir()) {
                found[count++] = i;
            }
        }
        return Arrays.copyOf(found, count);
    }

    private static double[] heights(CabinetPlan plan) {
        int[] air = airProbes(plan);
        double[] heights = new double[air.length];
        for (int i = 0; i < air.length; i++) {
            heights[i] =
                    switch (plan.probes().get(air[i]).place().kind()) {
                        case TOP -> 1;
                        case MIDDLE -> 0;
                        case BOTTOM -> -1;
                        case TUB, AMBIENT, OTHER -> Double.NaN;
                    };
        }
        return heights;
    }

    /**
     * Takes a tick in.
     *
     * @param state the readings
     * @param setPoint in force, °C
     * @param wasHeaterOn whether the heater was commanded on since the last tick
     * @param elapsedSeconds since the last tick
     * @param circumstances what else is known
     */
    public void take(
            CabinetState state,
            double setPoint,
            boolean wasHeaterOn,
            double elapsedSeconds,
            Interference circumstances) {
        if (elapsedSeconds > PAUSE_SECONDS) {
            wasInterfered = true;
            return;
        }
        if (blocks.take(state, wasHeaterOn ? 1 : 0, elapsedSeconds)) {
            block(setPoint, circumstances);
        }
    }

    /** What may move the air, or keep the heater from heating, beside the heater itself. */
    public enum Interference {
        NONE,
        /** The door is known to be open, or somebody works at the cabinet. */
        HANDS_INSIDE,
        /** Guard holds heat back by the cut-off relay: the heater's relay can't be judged. */
        HEAT_CUT
    }

    void block(double setPoint, Interference interference) {
        layering.take(blocks, heater.isUnsuspected() ? response.share() : shareInAir(), isTrusted);
        double common = layering.commonCelsius();
        if (Double.isNaN(common)) {
            wasInterfered = true;
            return;
        }
        boolean isInterfered = interference != Interference.NONE;
        boolean isHanded = interference == Interference.HANDS_INSIDE;
        senseDoor(common);
        noteOpening(isHanded);
        boolean isOpen = door.isOpen() || isHanded;
        boolean isQuiet = !isInterfered && !isRecovering();
        boolean isSound =
                isQuiet && heater.isUnsuspected() && fan.verdict() != FanHealth.Verdict.STOPPED;
        judgeHeater(common, setPoint, isSound, isOpen, interference);
        judgeLayers(isOpen, isQuiet, isSound);
        retrust();
    }

    /** How long hands or an open door cooled the cabinet sets how long it takes to recover. */
    private void noteOpening(boolean isHanded) {
        if (isHanded || door.isOpen()) {
            openedSeconds += BlockMeans.SECONDS;
            recoverySeconds =
                    Math.min(
                            LONGEST_RECOVERY_SECONDS,
                            QUIET_AFTER_SECONDS + RECOVERY_TIMES * openedSeconds);
        } else {
            openedSeconds = 0;
            recoverySeconds = Math.max(0, recoverySeconds - BlockMeans.SECONDS);
        }
    }

    private boolean isRecovering() {
        return recoverySeconds > 0;
    }

    private double shareInAir() {
        return heater.shareInAir();
    }

    private void senseDoor(double common) {
        double heatKelvin = response.isLearned() ? response.kelvin() * response.share() : 0;
        door.take(blocks, isTrusted, common - heatKelvin, heatKelvin, response.lagSeconds());
    }

    private void judgeHeater(
            double common,
            double setPoint,
            boolean isSound,
            boolean isOpen,
            Interference interference) {
        boolean isRestart = response.take(blocks.heatShare(), common, isSound);
        isRestart |= layering.isLearned() != wasLearned;
        wasLearned = layering.isLearned();
        boolean isJustShut = door.shutSeconds() < RECOVERY_SECONDS;
        boolean isBlocked = isOpen || isJustShut;
        boolean isCut = interference == Interference.HEAT_CUT;
        isRestart |= isBlocked || wasInterfered;
        wasInterfered = isBlocked;
        if (isCut) {
            heater.cutOff();
        }
        if (isRestart && response.isLearned()) {
            heater.restart(response, common);
        }
        if (isBlocked) {
            plain.restart();
        } else {
            heater.take(
                    blocks.heatShare(),
                    common,
                    setPoint,
                    response,
                    isRecovering(),
                    isCut,
                    heater.verdict() == HeaterHealth.Verdict.ALWAYS_ON
                            || stoppedHeatBlocks >= DEAD_BLOCKS);
            plain.take(blocks.heatShare(), common, setPoint);
        }
        boolean isStopped = heater.verdict() == HeaterHealth.Verdict.GIVES_NOTHING;
        boolean isHeldBack = stoppedHeatBlocks < DEAD_BLOCKS && (fan.isSuspected() || isOpen);
        stoppedHeatBlocks = isStopped && !isHeldBack ? stoppedHeatBlocks + 1 : 0;
        if (isSound) {
            strength.take(response.comparableKelvin());
        }
    }

    private void judgeLayers(boolean isOpen, boolean isQuiet, boolean isSound) {
        double share = shareInAir();
        boolean isComplete = true;
        for (int i = 0; i < probes.length; i++) {
            double deviation = layering.deviationKelvin(i);
            isComplete &= isTrusted[i] && !Double.isNaN(deviation);
            boolean counts = layering.isLearned() && !Double.isNaN(deviation);
            fastKelvin[i] = counts ? fast[i].step(deviation) : Double.NaN;
            mediumKelvin[i] = counts ? medium[i].step(deviation) : Double.NaN;
            slowKelvin[i] = counts ? slow[i].step(deviation) : Double.NaN;
        }
        boolean isLayered = fan.verdict() == FanHealth.Verdict.MIXES && noTrouble();
        if (isSound && isComplete && isLayered) {
            layering.learn(blocks, share);
        }
        senseProbes(isQuiet && !isOpen, isSound);
        if (!layering.isLearned()) {
            return;
        }
        fastCauses.judge(
                trustedOnly(fastKelvin),
                layering,
                share,
                isQuiet
                        ? Math.max(FAST_LEAST_KELVIN, LEAST_DEVIATIONS * fastScatter.kelvin())
                        : FAST_DISTURBED_LEAST_KELVIN);
        mediumCauses.judge(
                trustedOnly(mediumKelvin),
                layering,
                share,
                Math.max(MEDIUM_LEAST_KELVIN, LEAST_DEVIATIONS * mediumScatter.kelvin()));
        slowCauses.judge(
                trustedOnly(slowKelvin),
                layering,
                share,
                Math.max(SLOW_LEAST_KELVIN, LEAST_DEVIATIONS * slowScatter.kelvin()));
        boolean isHeaterOdd =
                heater.verdict() == HeaterHealth.Verdict.ALWAYS_ON
                        || heater.alwaysOnEvidence() > HeaterHealth.BELIEVED / 4
                        || heater.surpriseKelvin() > STUCK_DEVIATIONS * response.scatterKelvin();
        fan.take(
                fastCauses,
                slowCauses,
                usualHalfGapKelvin(share),
                slowScatter.kelvin(),
                isOpen || door.shutSeconds() < RECOVERY_SECONDS || isHeaterOdd,
                isQuiet);
        for (int i = 0; i < probes.length; i++) {
            health[i].take(
                    i,
                    fastKelvin[i],
                    fastCauses,
                    mediumCauses,
                    mediumScatter.kelvin(),
                    isOpen,
                    !isQuiet
                            || fan.verdict() != FanHealth.Verdict.MIXES
                            || !heater.isUnsuspected());
        }
        if (isSound && isLayered && isComplete) {
            fastScatter.take(fastKelvin);
            mediumScatter.take(mediumKelvin);
            slowScatter.take(slowKelvin);
        }
    }

    private double[] trustedOnly(double[] values) {
        for (int i = 0; i < values.length; i++) {
            if (!isTrusted[i]) {
                values[i] = Double.NaN;
            }
        }
        return values;
    }

    private void senseProbes(boolean isQuiet, boolean isSound) {
        double share = shareInAir();
        boolean hasJumped = Math.abs(share - sensedShare) > SHARE_JUMP;
        sensedShare = share;
        for (int i = 0; i < probes.length; i++) {
            double sum = 0;
            int present = 0;
            for (int j = 0; j < probes.length; j++) {
                double value = blocks.celsius(j);
                if (j != i && isTrusted[j] && !Double.isNaN(value)) {
                    sum += value - layering.expected(j, share);
                    present++;
                }
            }
            double expected =
                    present == 0 ? Double.NaN : sum / present + layering.expected(i, share);
            health[i]
                    .frozen()
                    .take(blocks.wasSame(i), blocks.samples(i), expected, hasJumped, isSound);
            health[i].scatter().take(blocks.meanSquaredStep(i), blocks.samples(i), isQuiet);
        }
    }

    private boolean noTrouble() {
        for (ProbeHealth probe : health) {
            if (probe.trouble() != ProbeTrouble.NONE) {
                return false;
            }
        }
        return true;
    }

    private double usualHalfGapKelvin(double share) {
        double product = 0;
        double squares = 0;
        for (int i = 0; i < probes.length; i++) {
            if (!Double.isNaN(height[i]) && isTrusted[i]) {
                product += height[i] * layering.expected(i, share);
                squares += height[i] * height[i];
            }
        }
        return squares == 0 ? 0 : product / squares;
    }

    /** Takes a probe in trouble out of what is common, but never the last one. */
    private void retrust() {
        int left = 0;
        for (ProbeHealth probe : health) {
            left += probe.isTrusted() ? 1 : 0;
        }
        boolean isChanged = false;
        for (int i = 0; i < probes.length; i++) {
            boolean trust = left == 0 || health[i].isTrusted();
            isChanged |= trust != isTrusted[i];
            isTrusted[i] = trust;
        }
        if (isChanged) {
            wasInterfered = true;
        }
    }

    /** Whether the heater heats without being told to. */
    public boolean isHeaterStuckOn() {
        return heater.verdict() == HeaterHealth.Verdict.ALWAYS_ON || plain.isWarmingWithoutHeat();
    }

    /** Whether the heater gives nothing although told to heat. */
    public boolean isHeaterDead() {
        return stoppedHeatBlocks >= DEAD_BLOCKS || plain.isCoolingAtFullHeat();
    }

    /** Whether the heater gives clearly less than it used to. */
    public boolean isHeaterWeak() {
        return strength.isWeak() && fan.verdict() == FanHealth.Verdict.MIXES;
    }

    /** The heater's power as a share of what it was. */
    public double heaterPowerShare() {
        return strength.share();
    }

    /** What the fan's work looks like from the layers. */
    public boolean isFanStopped() {
        return fan.verdict() == FanHealth.Verdict.STOPPED;
    }

    public boolean isFanWeak() {
        return fan.verdict() == FanHealth.Verdict.WEAK;
    }

    /** By how much the top is warmer beside the middle than it should be, K. */
    public double layerExcessKelvin() {
        return fan.excessKelvin();
    }

    /** How much it should be, K. */
    public double usualLayerKelvin() {
        return fan.usualKelvin();
    }

    /** For how long the door has been open, as the air tells, s; 0 when it is shut. */
    public double doorOpenSeconds() {
        return door.openSeconds();
    }

    /** How far the air has fallen since the door was opened, K. */
    public double doorFallKelvin() {
        return door.fallKelvin();
    }

    /** How much warmer full power makes the air within minutes, as learned, K; 0 before. */
    public double responseKelvin() {
        return response.kelvin();
    }

    /** Whether the layers have been learned, so that fan and probes can be judged. */
    public boolean isLayeringLearned() {
        return layering.isLearned();
    }

    /**
     * What is wrong with a probe.
     *
     * @param probe index in the plan
     */
    public ProbeTrouble trouble(int probe) {
        int watched = watchedOf[probe];
        return watched < 0 ? ProbeTrouble.NONE : health[watched].trouble();
    }

    /** How far a probe is from where its neighbours and what was learned put it, K. */
    public double deviationKelvin(int probe) {
        int watched = watchedOf[probe];
        return watched < 0 ? 0 : layering.deviationKelvin(watched);
    }

    /** For how long a probe has said the same, s. */
    public double sameSeconds(int probe) {
        int watched = watchedOf[probe];
        return watched < 0 ? 0 : health[watched].frozen().sameSeconds();
    }

    /** Root mean square of a probe's steps from sample to sample, K. */
    public double stepKelvin(int probe) {
        int watched = watchedOf[probe];
        return watched < 0 ? 0 : health[watched].scatter().stepKelvin();
    }
}
