package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.cabinet.ProbeTrust;
import io.evenwarm.agent.guard.health.CabinetHealth;
import io.evenwarm.agent.guard.health.Interference;
import io.evenwarm.agent.guard.health.LearnedRows;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.agent.port.Learned;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Limits;
import io.evenwarm.quantity.Temperature;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;

/**
 * Decides whether one cabinet may be heated, and says what is wrong with it. Judges from readings;
 * knows nothing of what control wants.
 *
 * <p>Called by the control thread only.
 *
 * <p>Heat is held back, and the cut-off relay opened, while any of these holds: the latch is
 * tripped; no air probe is good, and no fallback is configured for that; a probe inside is at or
 * above the cut-off, or will be in half a minute; the heater that heats without command has warmed
 * the air, which the cut-off relay then stops; the fan stands still and no believed probe sees the
 * top; the heater's line or the cut-off relay's can't be driven; the agent itself failed in this
 * cabinet's tick. All but the first come back by themselves, {@code 5 s} after the last cause went.
 */
public final class Guard {

    /** A grant outlives two missed ticks. */
    static final long GRANT_LASTS_NANOS = 3_000_000_000L;

    /** Heat that is still held back after this long is held back for a reason. */
    static final long STARTING_LASTS_NANOS = 60_000_000_000L;

    private final LimitRules limitRules;
    private final CutOff cutOff;
    private final TrustBook trust;
    private final BlindFallback fallback;
    private final boolean hasCutOffRelay;
    private final CutOffRelayTest relayTest;
    private final Watches watches;
    private final CabinetHealth health;
    private final StillAir stillAir;
    private final HeldAgain heldAgain = new HeldAgain();
    private final NearCutOff nearCutOff = new NearCutOff();
    private final StuckHeater stuckHeater = new StuckHeater();
    private final HeatHold hold = new HeatHold();
    private final Settling settling = new Settling();
    private final HeatShare heatShare = new HeatShare();
    private final Obedience obedience = new Obedience();
    private final LearnedBefore learnedBefore;
    private Temperature setPoint;
    private Temperature lowestSetPoint;
    private Temperature highestSetPoint;
    private Limits limits;
    private boolean isLowered;
    private boolean isUnevenYet;
    private boolean isStarting = true;
    private boolean hasStarted;
    private long startedAtNanos;

    /**
     * @param plan the cabinet
     * @param latch the latch as it was kept
     * @throws IllegalArgumentException when the plan's own set point is outside what its limits
     *     allow; the message says what is allowed
     */
    public Guard(CabinetPlan plan, Latch latch) {
        this(plan, latch, Optional.empty());
    }

    /**
     * As the other, going on from what was learned before.
     *
     * @param kept as {@link #learned} gave it
     */
    public Guard(CabinetPlan plan, Latch latch, Optional<Learned> kept) {
        limitRules = new LimitRules(plan);
        Optional<String> refusal = limitRules.refusal(plan.setPoint());
        if (refusal.isPresent()) {
            throw new IllegalArgumentException("cabinet " + plan.name() + ": " + refusal.get());
        }
        cutOff = new CutOff(plan, limitRules, latch);
        trust = new TrustBook(plan);
        health = new CabinetHealth(plan);
        stillAir = new StillAir(plan);
        hasCutOffRelay = plan.hasCutOffRelay();
        relayTest = new CutOffRelayTest();
        fallback = new BlindFallback(plan, limitRules.cutOff().celsius());
        watches = new Watches(plan, cutOff, relayTest, stillAir);
        setPoint = plan.setPoint();
        lowestSetPoint = setPoint;
        highestSetPoint = setPoint;
        limits = limitsNow();
        learnedBefore = new LearnedBefore(plan, kept);
        learnedBefore.rows().ifPresent(this::recall);
    }

    private void recall(SortedMap<String, List<Double>> rows) {
        watches.learned(LearnedRows.reading(rows));
        health.recall(rows);
    }

    /** Why what was learned before can't be used, in plain words; empty when it can. */
    public Optional<String> learnedRefusal() {
        return learnedBefore.refusal();
    }

    /** What is worth being kept through a restart now; empty while too little is known. */
    public Optional<Learned> learned() {
        if (!health.isWorthKeeping()) {
            return Optional.empty();
        }
        LearnedRows rows = LearnedRows.writing();
        watches.learned(rows);
        health.learned(rows);
        return rows.areFinite()
                ? Optional.of(new Learned(learnedBefore.about(), rows.rows()))
                : Optional.empty();
    }

    /** Which probes may be believed, for the next tick's observation. */
    public ProbeTrust trust() {
        return trust.trust();
    }

    /**
     * Judges one tick.
     *
     * @param state this tick's readings
     * @param facts what else is known
     * @param nowNanos monotonic time of the tick
     */
    public GuardVerdict judge(CabinetState state, TickFacts facts, long nowNanos) {
        double share = heatShare.update(facts.wasHeaterOn(), facts.secondsSinceLastTick());
        double beyondUsual = stillAir.beyondUsualKelvin(state, health);
        boolean isHot =
                cutOff.judge(
                        state,
                        trust,
                        new CutOff.Setting(
                                highestSetPoint.celsius(),
                                share,
                                beyondUsual,
                                facts.secondsSinceLastTick()),
                        nowNanos);
        if (!state.isBlind() && cutOff.isLowered(state) != isLowered) {
            isLowered = !isLowered;
            limits = limitsNow();
        }
        boolean isBlind =
                fallback.update(state, setPoint.celsius(), share, facts.secondsSinceLastTick());
        health.take(
                state,
                setPoint.celsius(),
                facts.wasHeaterOn(),
                facts.secondsSinceLastTick(),
                interference(facts));
        boolean isStuckHot = stuckHeater.update(isHeaterStuckOn(), state, setPoint.celsius());
        boolean isNearHot =
                nearCutOff.update(
                        state,
                        setPoint.celsius(),
                        limits.cutOff().celsius(),
                        facts.secondsSinceLastTick());
        boolean isHeldAgain =
                heldAgain.update(
                        isStuckHot || isNearHot,
                        share,
                        facts.wasHeaterOn(),
                        state.isBlind() ? Double.NaN : state.celsius(state.warmestAir()),
                        nowNanos);
        if (isHeldAgain) {
            health.takeHeaterForStuckOn();
        }
        boolean isCauseThere =
                isHot
                        || cutOff.isTripped()
                        || isBlind
                        || hasHeatLineFault(facts)
                        || !facts.internalFault().isEmpty()
                        || isStuckHot
                        || isNearHot
                        || stillAir.holds(
                                state,
                                trust,
                                watches.isFanStandingStill() || health.isFanStopped(),
                                beyondUsual,
                                limits.cutOff().celsius(),
                                facts.secondsSinceLastTick());
        boolean isHeld = hold.update(isCauseThere, nowNanos);
        boolean isSettled = settling.update(state, limits, nowNanos);
        List<Finding> findings =
                watches.judge(
                        new Circumstances(
                                state,
                                isSettled,
                                share,
                                isHeld,
                                setPoint.celsius(),
                                highestSetPoint.celsius(),
                                limits,
                                cutOff.latch(),
                                trust,
                                health,
                                isHeaterStuckOn(),
                                facts,
                                nowNanos));
        isUnevenYet =
                isFound(findings, FindingCode.FAN_STOPPED)
                        || isFound(findings, FindingCode.PROBES_DISAGREE);
        obedience.update(
                state,
                cutOff.isTripped(),
                isFound(findings, FindingCode.HEATER_STUCK_ON),
                nowNanos);
        isStarting = isStarting && isHeld && !cutOff.isTripped() && isFirstMinute(nowNanos);
        boolean isTesting =
                hasCutOffRelay
                        && relayTest.update(
                                state,
                                facts,
                                !isHeld && isSettled && isCalm(facts, findings),
                                share,
                                setPoint.celsius(),
                                health,
                                nowNanos);
        if (relayTest.hasEndedWithoutFall()) {
            health.beginAnew();
        }
        if (cutOff.isTripped()) {
            return new GuardVerdict(GuardState.TRIPPED, HeatGrant.NONE, findings);
        }
        if (isHeld) {
            return new GuardVerdict(
                    isStarting ? GuardState.STARTING : GuardState.HOLDING,
                    HeatGrant.NONE,
                    findings);
        }
        HeatGrant grant = HeatGrant.until(nowNanos + GRANT_LASTS_NANOS);
        return new GuardVerdict(
                GuardState.ALLOWING,
                isTesting ? grant.withCutOffOpen() : grant,
                fallback.duty(),
                relayTest.giveBackSeconds(),
                findings);
    }

    /** Whether nothing about a settled cabinet speaks against opening its cut-off relay. */
    private boolean isCalm(TickFacts facts, List<Finding> findings) {
        return !health.isRecovering()
                && !facts.signs().isPlannedWork()
                && !facts.signs().isDoorOpen().orElse(false)
                && facts.signs().wasFanOn()
                && isNothingElseFound(findings);
    }

    private static boolean isNothingElseFound(List<Finding> findings) {
        for (int i = 0; i < findings.size(); i++) {
            FindingCode code = findings.get(i).code();
            // Heat that comes through a relay that should stop it misleads what is learned of the
            // heater; a heater that is truly dead leaves the set point, and there is no calm.
            if (!code.equals(FindingCode.CUT_OFF_RELAY_STUCK)
                    && !code.equals(FindingCode.HEATER_DEAD)
                    && !code.equals(FindingCode.HEATER_WEAK)
                    && !code.equals(FindingCode.HEATER_STUCK_ON)
                    && !code.equals(FindingCode.CLOCK_UNTRUSTED)
                    && !code.equals(FindingCode.STATE_NOT_SAVED)) {
                return false;
            }
        }
        return true;
    }

    private boolean isHeaterStuckOn() {
        return health.isHeaterStuckOn() || heldAgain.isStuckOn();
    }

    private Interference interference(TickFacts facts) {
        Signs signs = facts.signs();
        if (signs.isPlannedWork() || signs.isDoorOpen().orElse(false)) {
            return Interference.HANDS_INSIDE;
        }
        if (hasCutOffRelay && !signs.wasCutOffRelayClosed()) {
            return relayTest.isRunning() ? Interference.RELAY_TESTED : Interference.HEAT_CUT;
        }
        if (signs.isHeatTried()) {
            return Interference.HEAT_TRIED;
        }
        return isUnevenYet && !health.isLayeringLearned() ? Interference.UNEVEN : Interference.NONE;
    }

    private boolean isFirstMinute(long nowNanos) {
        if (!hasStarted) {
            hasStarted = true;
            startedAtNanos = nowNanos;
        }
        return nowNanos - startedAtNanos < STARTING_LASTS_NANOS;
    }

    /** The latch now; whoever keeps it saves it when it is another object than before. */
    public Latch latch() {
        return cutOff.latch();
    }

    private static boolean isFound(List<Finding> findings, FindingCode code) {
        for (int i = 0; i < findings.size(); i++) {
            if (findings.get(i).code().equals(code)) {
                return true;
            }
        }
        return false;
    }

    /**
     * Why a reset is not allowed now, in plain words; empty when it is.
     *
     * @param isAtCabinet whether who asks stands at the cabinet and sees what the heater does; from
     *     afar it is allowed only once the heater is seen to obey
     */
    public Optional<String> resetRefusal(CabinetState state, boolean isAtCabinet) {
        return cutOff.resetRefusal(state, highestSetPoint.celsius(), isAtCabinet)
                .or(() -> isAtCabinet ? Optional.empty() : obedience.refusal(state));
    }

    /**
     * Resets the latch for a person.
     *
     * @throws IllegalStateException when {@link #resetRefusal} speaks against it
     */
    public void reset(CabinetState state, boolean isAtCabinet) {
        Optional<String> refusal = resetRefusal(state, isAtCabinet);
        if (refusal.isPresent()) {
            throw new IllegalStateException(refusal.get());
        }
        cutOff.reset();
    }

    /** Why a set point is not allowed, in plain words; empty when it is. */
    public Optional<String> setPointRefusal(Temperature setPoint) {
        return limitRules.refusal(setPoint);
    }

    /**
     * Takes note of another set point: the cold and warm limits move with it.
     *
     * @throws IllegalArgumentException when {@link #setPointRefusal} speaks against it
     */
    public void setPointChanged(Temperature setPoint) {
        requireAllowed(setPoint);
        this.setPoint = setPoint;
        lowestSetPoint = setPoint;
        highestSetPoint = setPoint;
        limits = limitsNow();
        settling.restart();
        watches.limitsMoved();
    }

    /**
     * Takes note of where a programme has the set point now: heater, layers and rooms are judged by
     * what control heats for.
     *
     * @throws IllegalArgumentException when {@link #setPointRefusal} speaks against it
     */
    public void setPointMoved(Temperature setPoint) {
        requireAllowed(setPoint);
        this.setPoint = setPoint;
    }

    /**
     * Takes note that a programme moves the set point: the cold and warm limits go along, the cold
     * one with the lowest and the warm one with the highest set point that the air may still be
     * coming from. Neither leaves what {@link #setPointRefusal} allows.
     *
     * @throws IllegalArgumentException when one of them is not allowed
     */
    public void setPointFollows(Temperature lowest, Temperature highest) {
        requireAllowed(lowest);
        requireAllowed(highest);
        lowestSetPoint = lowest;
        highestSetPoint = highest;
        limits = limitsNow();
    }

    private void requireAllowed(Temperature setPoint) {
        Optional<String> refusal = limitRules.refusal(setPoint);
        if (refusal.isPresent()) {
            throw new IllegalArgumentException(refusal.get());
        }
    }

    private Limits limitsNow() {
        return isLowered
                ? limitRules.loweredBetween(lowestSetPoint, highestSetPoint)
                : limitRules.between(lowestSetPoint, highestSetPoint);
    }

    /** The limits in force. */
    public Limits limits() {
        return limits;
    }

    /** The finding for a tick that failed before guard could judge it. */
    public static Finding agentFault(String fault, long nowNanos) {
        Watch.Words words = AgentFault.about(fault);
        return new Finding(
                FindingCode.AGENT_FAULT,
                Optional.empty(),
                nowNanos,
                words.evidence(),
                words.action(),
                words.advice());
    }

    private static boolean hasHeatLineFault(TickFacts facts) {
        List<LineFault> faults = facts.lineFaults();
        for (int i = 0; i < faults.size(); i++) {
            if (faults.get(i).line().carriesHeat()) {
                return true;
            }
        }
        return false;
    }
}
