package io.evenwarm.agent.guard.health;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.plan.CabinetPlan;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;

/**
 * All that is learned of one cabinet, and what it says of heater, fan, door and probes. Works in
 * blocks of {@value BlockMeans#SECONDS} s, so that a tick costs little.
 */
public final class CabinetHealth {

    /** For so long after a door was shut, the walls warm the air and not the heater. */
    static final double RECOVERY_SECONDS = 600;

    /**
     * Farther from the set point it is warming up or cooling down, with the heater always or never
     * on: nothing is learned from that of what a share of heat does.
     */
    private static final double NEAR_KELVIN = 0.75;

    private static final double STUCK_DEVIATIONS = 3;

    /** A heater that was taken to give nothing heats again when the air is so much warmer. */
    private static final double HEATS_DEVIATIONS = 3;

    /** A stopped fan shows first as less heat in the middle; by then it is known for what it is. */
    static final int DEAD_BLOCKS = 54;

    /** A tick this late was a pause: what the air did meanwhile is not known. */
    private static final double PAUSE_SECONDS = 20;

    /** Two minutes without a reading: a failed conversion or two are not that. */
    private static final int UNSEEN_BLOCKS = 12;

    private static final int NO_PROBE = -1;

    private final int[] watchedOf;
    private final WatchedTubs tubs;
    private final BlockMeans blocks;
    private final HeatResponse response = new HeatResponse();
    private final HeaterHealth heater = new HeaterHealth();
    private final HeaterStrength strength = new HeaterStrength();
    private final PlainRules plain = new PlainRules();
    private final LayerHealth layers;
    private final DoorSense door;
    private boolean wasLearned;
    private boolean wasInterfered;
    private final Recovery recovery = new Recovery();
    private final TestedHeat tested = new TestedHeat();
    private boolean isDoorHeatUnknown;
    private int stoppedHeatBlocks;
    private final HoldingHeater held = new HoldingHeater();
    private int unseenBlocks;
    private final RestlessAir restless = new RestlessAir();
    private final HeatGap gap = new HeatGap();
    private final LostHeat lostHeat = new LostHeat();
    private final Recall recall = new Recall();

    public CabinetHealth(CabinetPlan plan) {
        int all = plan.probes().size();
        int[] air = WatchedProbes.inAir(plan);
        watchedOf = WatchedProbes.places(air, all);
        tubs = new WatchedTubs(plan);
        blocks = new BlockMeans(air);
        layers = new LayerHealth(WatchedProbes.heights(plan, air));
        door = new DoorSense(air.length);
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
            pass(elapsedSeconds);
            return;
        }
        double share = wasHeaterOn ? 1 : 0;
        tubs.gather(state, share, elapsedSeconds);
        if (blocks.take(state, share, elapsedSeconds)) {
            block(setPoint, circumstances);
        }
    }

    /**
     * Nothing ticked for a while: the lapse timer has driven heat off meanwhile. What was gathered
     * of the block before does not go with what comes.
     */
    private void pass(double seconds) {
        blocks.restart();
        tubs.restartBlock();
        response.passWithoutHeat(seconds);
        recovery.takePause(seconds);
        door.restart();
        wasInterfered = true;
    }

    /** What was supposed of the heat of the last minutes may be wrong: it is judged anew. */
    public void beginAnew() {
        wasInterfered = true;
    }

    /**
     * The heater heats without a command, as the cut-off relay's work has shown: what the air does
     * from here on is judged by that.
     */
    public void takeHeaterForStuckOn() {
        if (response.isLearned() && !Double.isNaN(layers.commonCelsius())) {
            heater.believeAlwaysOn(response, layers.commonCelsius());
        }
    }

    /**
     * Lets what was learned before the start count again, once the cabinet is as it was then.
     *
     * @param rows as {@link #learned} wrote them; must fit a cabinet with these probes
     */
    public void recall(SortedMap<String, List<Double>> rows) {
        recall.plan(rows);
    }

    /** Whether all that is known of the cabinet is learned, and worth being kept. */
    public boolean isWorthKeeping() {
        return response.isLearned() && layers.isLearned() && !recall.isPending();
    }

    /** Whether what was learned before the start still waits to count again. */
    public boolean isRecallPending() {
        return recall.isPending();
    }

    /** What is kept through a restart. */
    public void learned(LearnedRows rows) {
        response.learned(rows.of("heat"));
        strength.learned(rows.of("heater"));
        layers.learned(rows.of("layers"));
        door.learned(rows.of("door"));
        tubs.learned(rows);
    }

    private void recallWhenDue() {
        Optional<LearnedRows> rows = recall.due();
        if (rows.isPresent()) {
            learned(rows.get());
            wasLearned = layers.isLearned();
            wasInterfered = true;
            door.restart();
        }
    }

    void block(double setPoint, Interference interference) {
        recallWhenDue();
        layers.take(blocks, heater.isUnsuspected() ? response.share() : heater.shareInAir());
        double common = layers.commonCelsius();
        if (Double.isNaN(common)) {
            wasInterfered = true;
            unseenBlocks++;
            return;
        }
        seeAgain();
        recall.see(common - setPoint);
        boolean isInterfered = interference != Interference.NONE;
        boolean isHanded = interference == Interference.HANDS_INSIDE;
        tested.take(interference, response.lagSeconds());
        senseDoor(common);
        if (isHanded) {
            // Whoever works there shuts the door: what the air says then is not about one left
            // open.
            door.shut();
        }
        recovery.take(isHanded, door.isOpen());
        boolean isOpen = door.isOpen() || isHanded;
        boolean isRestless = restless.take(common);
        boolean isUndisturbed = !isInterfered && !tested.isGoingOn() && !isRestless;
        boolean isQuiet = isUndisturbed && !isRecovering();
        boolean isJustShut = door.shutSeconds() < RECOVERY_SECONDS;
        boolean isSound =
                isQuiet
                        && heater.isUnsuspected()
                        && layers.fan().verdict() != FanHealth.Verdict.STOPPED;
        judgeHeater(common, setPoint, isSound, isOpen, interference);
        tubs.judge(
                common,
                isQuiet,
                heater.verdict() == HeaterHealth.Verdict.OBEYS,
                layers.loudestSquaredStep(NO_PROBE));
        boolean isWarmer = heater.surpriseKelvin() > STUCK_DEVIATIONS * response.scatterKelvin();
        boolean isHeatBack = heater.verdict() == HeaterHealth.Verdict.GIVES_NOTHING && isWarmer;
        boolean isHeaterHot =
                heater.verdict() == HeaterHealth.Verdict.ALWAYS_ON
                        || heater.alwaysOnEvidence() > HeaterHealth.BELIEVED / 4
                        || (isWarmer && !isHeatBack);
        wasInterfered |=
                layers.judge(
                        blocks,
                        heater.shareInAir(),
                        new LayerHealth.Setting(
                                isOpen,
                                isJustShut,
                                !isRecovering(),
                                isQuiet,
                                isUndisturbed && !isJustShut && !recovery.isAfterWork(),
                                recovery.isAfterWork(),
                                heater.isUnsuspected(),
                                isHeaterHot,
                                isHeatBack ? held.most() : 0));
    }

    /** What the air did while no probe was there to tell is neither a door nor a fan. */
    private void seeAgain() {
        if (unseenBlocks >= UNSEEN_BLOCKS) {
            door.restart();
            recovery.takeCold(unseenBlocks * BlockMeans.SECONDS);
        }
        unseenBlocks = 0;
    }

    /** Whether walls and tubs still make good for the last opening. */
    public boolean isRecovering() {
        return recovery.isGoingOn();
    }

    private void senseDoor(double common) {
        double heatKelvin = response.isLearned() ? response.kelvin() * response.share() : 0;
        lostHeat.take(blocks.heatShare());
        if (!door.isOpen() && isDoorHeatUnknown != tested.isGoingOn()) {
            isDoorHeatUnknown = !isDoorHeatUnknown;
            door.restart();
        }
        door.take(
                blocks,
                layers.trusted(),
                isDoorHeatUnknown ? common : common - heatKelvin,
                lostHeat.kelvin(response),
                response.lagSeconds());
    }

    private void judgeHeater(
            double common,
            double setPoint,
            boolean isSound,
            boolean isOpen,
            Interference interference) {
        boolean isNear = Math.abs(common - setPoint) < NEAR_KELVIN;
        boolean isRestart = response.take(heatToLearn(), common, isSound, isNear);
        if (layers.isLearned() != wasLearned) {
            isRestart = true;
            tubs.learnAnew();
        }
        wasLearned = layers.isLearned();
        boolean isJustShut = door.shutSeconds() < RECOVERY_SECONDS;
        boolean isTested = tested.isGoingOn() && heater.isUnsuspected();
        boolean isBackAgain = gap.sinceSeconds() < RECOVERY_SECONDS;
        boolean isBlocked = isOpen || isJustShut || isTested || isBackAgain;
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
            plain.pass(blocks.heatShare());
        } else {
            heater.setKnownWeak(strength.isWeak());
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
        boolean isInQuestion =
                heater.verdict() == HeaterHealth.Verdict.GIVES_NOTHING && !isCut && !isBlocked;
        if (held.take(blocks.heatShare(), common - setPoint, isInQuestion)) {
            gap.restart();
            heater.forgive(response, common);
        }
        boolean isStopped = heater.verdict() == HeaterHealth.Verdict.GIVES_NOTHING;
        // Heat that comes back drives the layers apart, too.
        double parting =
                isStopped && !isWithoutHeat() ? Double.NEGATIVE_INFINITY : layers.partingKelvin();
        gap.take(isStopped, parting, layers.slowPartingKelvin());
        if (gap.sinceSeconds() == 0) {
            // Walls and tubs have cooled, as behind an open door.
            recovery.takeCold(gap.seconds());
        }
        boolean isHeldBack =
                stoppedHeatBlocks < DEAD_BLOCKS && (layers.fan().isSuspected() || isOpen);
        stoppedHeatBlocks = isStopped && !isHeldBack ? stoppedHeatBlocks + 1 : 0;
        if (isSound) {
            strength.take(response, blocks.heatShare(), layers.halfGapKelvin(blocks));
        }
    }

    /** Share of heat that came in the last block, as far as one can tell, 0 to 1. */
    private double heatToLearn() {
        return isWithoutHeat() ? 0 : blocks.heatShare();
    }

    /** Whether the heater is taken to give nothing, and the air is no warmer than that. */
    private boolean isWithoutHeat() {
        return heater.verdict() == HeaterHealth.Verdict.GIVES_NOTHING
                && heater.surpriseKelvin() < HEATS_DEVIATIONS * response.scatterKelvin();
    }

    /** Whether it shows just now that the mains were gone and are back. */
    public boolean isMainsReturned() {
        return gap.isMainsReturned();
    }

    /** For how long the heater gave nothing, the last time, s. */
    public double heatGoneSeconds() {
        return gap.seconds();
    }

    /** Whether the heater heats without being told to. */
    public boolean isHeaterStuckOn() {
        return heater.verdict() == HeaterHealth.Verdict.ALWAYS_ON || plain.isWarmingWithoutHeat();
    }

    /** Whether the heater gives nothing although told to heat. */
    public boolean isHeaterDead() {
        return stoppedHeatBlocks >= DEAD_BLOCKS || plain.isCoolingAtFullHeat();
    }

    /** Whether this cabinet's answer to heat has been learned. */
    public boolean isResponseLearned() {
        return response.isLearned();
    }

    /** How much warmer the air would soon be at full power than without, K; 0 until learned. */
    public double responseKelvin() {
        return response.kelvin();
    }

    /** The heater's lag, as it was learned, s. */
    public double responseLagSeconds() {
        return response.lagSeconds();
    }

    /** Whether the heater gives clearly less than it used to. */
    public boolean isHeaterWeak() {
        return strength.isWeak() && layers.fan().verdict() == FanHealth.Verdict.MIXES;
    }

    /** The heater's power as a share of what it was. */
    public double heaterPowerShare() {
        return strength.share();
    }

    /** Whether the layers part as with a fan that stands still. */
    public boolean isFanStopped() {
        return layers.fan().verdict() == FanHealth.Verdict.STOPPED;
    }

    /** Whether they part as with a fan that moves less air than it did. */
    public boolean isFanWeak() {
        return layers.fan().verdict() == FanHealth.Verdict.WEAK;
    }

    /** By how much the top is warmer beside the middle than it should be, K. */
    public double layerExcessKelvin() {
        return layers.fan().excessKelvin();
    }

    /** How much it should be, K. */
    public double usualLayerKelvin() {
        return layers.fan().usualKelvin();
    }

    /** For how long the door has been open, as the air tells, s; 0 when it is shut. */
    public double doorOpenSeconds() {
        return door.openSeconds();
    }

    /** How long ago the door was last open, by the air or by what is known, s; 0 while it is. */
    public double sinceOpenSeconds() {
        return recovery.sinceOpenSeconds();
    }

    /** How far the air has fallen since the door was opened, K. */
    public double doorFallKelvin() {
        return door.fallKelvin();
    }

    /** Whether the layers have been learned, so that fan and probes can be judged. */
    public boolean isLayeringLearned() {
        return layers.isLearned();
    }

    /**
     * What is wrong with a probe.
     *
     * @param probe index in the plan
     */
    public ProbeTrouble trouble(int probe) {
        if (tubs.has(probe)) {
            return tubs.of(probe).trouble();
        }
        int watched = watchedOf[probe];
        return watched < 0 ? ProbeTrouble.NONE : layers.probe(watched).trouble();
    }

    /** How far a probe is from where its neighbours and what was learned put it, K. */
    public double deviationKelvin(int probe) {
        if (tubs.has(probe)) {
            return tubs.of(probe).deviationKelvin();
        }
        int watched = watchedOf[probe];
        return watched < 0 ? 0 : layers.layering().deviationKelvin(watched);
    }

    /** For how long a probe has said the same, s. */
    public double sameSeconds(int probe) {
        int watched = watchedOf[probe];
        return watched < 0 ? 0 : layers.probe(watched).frozen().sameSeconds();
    }

    /** Root mean square of a probe's steps from sample to sample, K. */
    public double stepKelvin(int probe) {
        if (tubs.has(probe)) {
            return tubs.of(probe).scatter().stepKelvin();
        }
        int watched = watchedOf[probe];
        return watched < 0 ? 0 : layers.probe(watched).scatter().stepKelvin();
    }
}
