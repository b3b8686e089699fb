package io.evenwarm.agent.control;

import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.quantity.Duty;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * One cabinet's control: a {@link Pid} that asks for a duty and a {@link TimeProportionedRelay}
 * that makes it. Two things stand around the PID so that one set of defaults fits every cabinet of
 * the range:
 *
 * <ul>
 *   <li><b>The gain follows the duty that holds the cabinet.</b> A heater of four times the holding
 *       power moves the air twice as far for the same change of duty as one of twice the power, and
 *       holds with half the duty: the duty that the integral has found tells how strong the heater
 *       is for this cabinet in this room. All three terms are multiplied by the square root of that
 *       duty over {@value #DUTY_OF_STATED_GAIN}, within limits: a strong heater's relay ripple is
 *       then not fed back, and a weak one is still driven hard enough.
 *   <li><b>The set point is weighted by a filter.</b> Its weight b counts at once, the rest within
 *       the integral time: for a PI controller the same as b in k(b r − y), but with nothing in the
 *       integral that a change of gain could upset.
 * </ul>
 *
 * <p>Behind an open door {@link SuddenCold} keeps the duty where it was.
 *
 * <p>Warming up needs little of its own. With the output at its limit the integral is drawn to what
 * just reaches the limit, so heating is eased off when the distance left is the speed of approach
 * times the integral time: early where a strong heater warms quickly, late where it has little to
 * spare. A tuned cabinet's integral time is too short for that, and the default's counts until it
 * is warm.
 *
 * <p>Called by the control thread only. A value that is not finite is treated as no value.
 */
public final class HeaterControl {

    /** The derivative's filter, as a share of the derivative time. */
    private static final double FILTER_SHARE = 0.7;

    /** How fast the integral gives way at a limit, as a share of the integral time. */
    private static final double TRACKING_SHARE = 0.17;

    /** The holding duty at which the plan's gain holds as it stands. */
    private static final double DUTY_OF_STATED_GAIN = 0.3;

    /** The gain sinks no further below this holding duty, and rises no further above full duty. */
    private static final double LEAST_HOLDING_DUTY = 0.05;

    /** Farther below its set point than this a cabinet is warming up, K. */
    private static final double APPROACH_KELVIN = 1.5;

    /** And this near it has arrived, K. */
    private static final double ARRIVED_KELVIN = 0.1;

    /**
     * While it warms up the integral time is this at least, s: heat is then eased off early enough
     * for the heat that walls, shelves and the heater itself have taken up.
     */
    private static final double APPROACH_INTEGRAL_SECONDS = 1450;

    /** More rounds than the scheduled gain and the integral need to agree. */
    private static final int BUMPLESS_ROUNDS = 30;

    /** Withheld heat comes back at this duty at least, so that it does not take for ever. */
    private static final double LEAST_GIVE_BACK_DUTY = 0.25;

    /** Below this duty only a part of the withheld heat comes back, in proportion. */
    private static final double DUTY_OF_FULL_GIVE_BACK = 0.2;

    /** The duty that held the cabinet is the mean of about so long. */
    private static final double USUAL_SECONDS = 900;

    /** So near its set point, K, for so long, s, it is held. */
    private static final double HELD_KELVIN = 0.5;

    private static final double HELD_SECONDS = 1800;

    /** After so long without control the integral no longer tells what the cabinet needs. */
    private static final double FORGET_SECONDS = 1800;

    private final SuddenCold suddenCold = new SuddenCold();
    private ControlPlan plan;
    private TimeProportionedRelay relay;
    private PidState state = PidState.startingAt(0, 0);
    private double slowSetPoint;
    private double lastTarget;
    private double holdingDuty;
    private boolean isApproaching;
    private boolean isRunning;
    private double idleSeconds;
    private Optional<TuningTest> test = Optional.empty();
    private double giveBackSeconds;
    private double usualDuty;
    private double usualIntegral;
    private double heldSeconds;

    public HeaterControl(ControlPlan plan) {
        this.plan = plan;
        this.relay = relay(plan);
    }

    private static TimeProportionedRelay relay(ControlPlan plan) {
        return new TimeProportionedRelay(
                plan.windowSeconds(), plan.minimumOnSeconds(), plan.minimumOffSeconds());
    }

    /** The constants in force. */
    public ControlPlan plan() {
        return plan;
    }

    /**
     * Takes other constants without a bump: the duty goes on from where it is, because what the
     * other gain changes in the proportional and derivative terms the integral makes up for.
     */
    public void use(ControlPlan other) {
        double error = lastTarget - state.measured();
        double duty = gains().gain() * error + state.integral() + state.derivative();
        boolean isOtherRelay =
                other.windowSeconds() != plan.windowSeconds()
                        || other.minimumOnSeconds() != plan.minimumOnSeconds()
                        || other.minimumOffSeconds() != plan.minimumOffSeconds();
        plan = other;
        if (isOtherRelay) {
            relay = relay(other);
        }
        if (isRunning) {
            for (int i = 0; i < BUMPLESS_ROUNDS; i++) {
                double integral = duty - gains().gain() * error;
                state = PidState.startingAt(integral, state.measured());
            }
        }
    }

    /** Begins a test, in place of one that runs. */
    public void begin(TuningTest next) {
        test = Optional.of(next);
    }

    /**
     * Begins with the duty that held the cabinet before, instead of none: only before the first
     * step.
     *
     * @param duty 0 to 1; all else is taken for the nearest of them
     */
    public void beginWith(double duty) {
        double begin = Math.max(0, Math.min(1, duty));
        state = PidState.startingAt(begin, state.measured());
        usualDuty = begin;
        usualIntegral = begin;
    }

    /**
     * The duty that holds the cabinet, 0 to 1, as {@link #beginWith} takes it after a restart;
     * empty unless it has been within {@value #HELD_KELVIN} K of its set point for half an hour,
     * with no test and no open door.
     */
    public OptionalDouble heldDuty() {
        return heldSeconds >= HELD_SECONDS
                ? OptionalDouble.of(Math.max(0, Math.min(1, usualIntegral)))
                : OptionalDouble.empty();
    }

    /** The test that runs, or the one that ran last. */
    public Optional<TuningTest> test() {
        return test;
    }

    /**
     * One step with a good process value.
     *
     * @param setPointCelsius set point in force
     * @param processCelsius process value
     * @param elapsedSeconds time since the previous step, above 0
     * @param heaterWasOn whether the gate energised the heater after the previous step
     */
    public HeatRequest step(
            double setPointCelsius,
            double processCelsius,
            double elapsedSeconds,
            boolean heaterWasOn) {
        return step(
                setPointCelsius,
                processCelsius,
                processCelsius,
                false,
                elapsedSeconds,
                heaterWasOn);
    }

    /**
     * As the other, with the warmest air probe beside the process value, for a test to look at.
     *
     * @param warmestCelsius the warmest air probe
     * @param isDoorOpen whether the door is known to be open, or said to be
     */
    public HeatRequest step(
            double setPointCelsius,
            double processCelsius,
            double warmestCelsius,
            boolean isDoorOpen,
            double elapsedSeconds,
            boolean heaterWasOn) {
        if (!Double.isFinite(setPointCelsius)
                || !Double.isFinite(processCelsius)
                || !(elapsedSeconds > 0 && elapsedSeconds < Double.MAX_VALUE)) {
            return idle(elapsedSeconds, heaterWasOn);
        }
        if (!isRunning) {
            begin(setPointCelsius, processCelsius);
        }
        if (test.isPresent() && !test.get().isOver()) {
            TuningTest running = test.get();
            if (suddenCold.step(processCelsius, setPointCelsius, isDoorOpen, elapsedSeconds)) {
                running.fail("the air got cold at once, as behind an open door");
            }
            running.step(processCelsius, warmestCelsius, elapsedSeconds, heaterWasOn);
            if (running.isDriving()) {
                // Control takes up again where it left off.
                state = PidState.startingAt(state.integral(), processCelsius);
                heldSeconds = 0;
                double asked = running.duty();
                return new HeatRequest(
                        new Duty(asked), relay.step(asked, elapsedSeconds, heaterWasOn));
            }
        }
        double duty =
                withGivenBack(
                        duty(setPointCelsius, processCelsius, isDoorOpen, elapsedSeconds),
                        elapsedSeconds);
        boolean on = relay.step(duty, elapsedSeconds, heaterWasOn);
        return new HeatRequest(new Duty(duty), on);
    }

    /**
     * Heat that was asked for and withheld for a moment comes beside what control asks for, at the
     * same pace again. Where little heat is needed it does not all come back: the dip lasts for
     * minutes there, and control itself makes up for it meanwhile.
     *
     * @param seconds of full heat
     */
    public void giveBack(double seconds) {
        giveBackSeconds += seconds * Math.min(1, usualDuty / DUTY_OF_FULL_GIVE_BACK);
    }

    private double withGivenBack(double duty, double elapsedSeconds) {
        if (giveBackSeconds <= 0) {
            return duty;
        }
        double extra = Math.min(1 - duty, Math.max(duty, LEAST_GIVE_BACK_DUTY));
        extra = Math.min(extra, giveBackSeconds / elapsedSeconds);
        giveBackSeconds -= extra * elapsedSeconds;
        return duty + extra;
    }

    private double duty(
            double setPointCelsius,
            double processCelsius,
            boolean isDoorOpen,
            double elapsedSeconds) {
        double target = weighted(setPointCelsius, elapsedSeconds);
        lastTarget = target;
        if (suddenCold.step(processCelsius, setPointCelsius, isDoorOpen, elapsedSeconds)) {
            holdingDuty = Math.max(0, Math.min(1, state.integral()));
            state = PidState.startingAt(holdingDuty, processCelsius);
            heldSeconds = 0;
            return holdingDuty;
        }
        double below = target - processCelsius;
        isApproaching =
                !suddenCold.isWary()
                        && (below > APPROACH_KELVIN || (isApproaching && below > ARRIVED_KELVIN));
        PidGains gains = gains();
        double before = state.integral();
        PidStep step = Pid.step(gains, state, target, processCelsius, elapsedSeconds);
        state = step.state();
        if (step.unlimited() < 0) {
            // Not drawn back here: where heat is needed a little at a time the ripple takes the
            // output to 0 in every cycle, and each time the integral would be lifted.
            double plain =
                    before + gains.integralGain() * elapsedSeconds * (target - processCelsius);
            state = state.withIntegral(Math.max(Math.min(0, before), plain));
        }
        if (suddenCold.isWary()) {
            double most = Math.min(1, holdingDuty + SuddenCold.EXTRA_DUTY);
            state = state.withIntegral(Math.min(state.integral(), most));
            heldSeconds = 0;
            return Math.min(step.output(), most);
        }
        double part = elapsedSeconds / (USUAL_SECONDS + elapsedSeconds);
        usualDuty += (step.output() - usualDuty) * part;
        usualIntegral += (state.integral() - usualIntegral) * part;
        boolean isHeld = Math.abs(target - processCelsius) < HELD_KELVIN;
        heldSeconds = isHeld ? heldSeconds + elapsedSeconds : 0;
        return step.output();
    }

    /**
     * One step without a process value in which guard allows a fixed duty.
     *
     * @param duty 0 to 1
     */
    public HeatRequest blind(double duty, double elapsedSeconds, boolean heaterWasOn) {
        double elapsed = elapsedSeconds > 0 && elapsedSeconds < FORGET_SECONDS ? elapsedSeconds : 1;
        isRunning = false;
        giveBackSeconds = 0;
        heldSeconds = 0;
        idleSeconds = Math.min(idleSeconds + elapsed, FORGET_SECONDS);
        test.ifPresent(running -> running.fail("no air probe was good meanwhile"));
        return new HeatRequest(new Duty(duty), relay.step(duty, elapsed, heaterWasOn));
    }

    /** One step without a process value, or while heat is not allowed: wants no heat. */
    public HeatRequest idle(double elapsedSeconds, boolean heaterWasOn) {
        double elapsed = elapsedSeconds > 0 && elapsedSeconds < FORGET_SECONDS ? elapsedSeconds : 1;
        isRunning = false;
        giveBackSeconds = 0;
        heldSeconds = 0;
        idleSeconds = Math.min(idleSeconds + elapsed, FORGET_SECONDS);
        test.ifPresent(running -> running.fail("heat was not allowed meanwhile"));
        relay.idle(elapsed, heaterWasOn);
        return new HeatRequest(Duty.OFF, false);
    }

    /**
     * The first step after a pause: no derivative, and the integral kept if it is still worth it.
     */
    private void begin(double setPointCelsius, double processCelsius) {
        double kept = idleSeconds < FORGET_SECONDS ? Math.max(0, state.integral()) : 0;
        state = PidState.startingAt(kept, processCelsius);
        slowSetPoint = setPointCelsius;
        lastTarget = setPointCelsius;
        suddenCold.restart();
        idleSeconds = 0;
        isRunning = true;
    }

    private PidGains gains() {
        double gain = plan.gainPerKelvin();
        if (plan.gainFollowsDuty()) {
            double holding = Math.max(LEAST_HOLDING_DUTY, Math.min(1, state.integral()));
            gain *= Math.sqrt(holding / DUTY_OF_STATED_GAIN);
        }
        double integralSeconds =
                isApproaching
                        ? Math.max(plan.integralSeconds(), APPROACH_INTEGRAL_SECONDS)
                        : plan.integralSeconds();
        return new PidGains(
                gain,
                gain / integralSeconds,
                gain * plan.derivativeSeconds(),
                FILTER_SHARE * plan.derivativeSeconds(),
                TRACKING_SHARE * integralSeconds,
                1);
    }

    private double weighted(double setPoint, double elapsedSeconds) {
        slowSetPoint +=
                (setPoint - slowSetPoint)
                        * elapsedSeconds
                        / (plan.integralSeconds() + elapsedSeconds);
        double weight = plan.setPointWeight();
        return weight * setPoint + (1 - weight) * slowSetPoint;
    }
}
