package io.evenwarm.agent.loop;

import io.evenwarm.agent.cabinet.AirMoisture;
import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.control.HeatRequest;
import io.evenwarm.agent.control.HeaterControl;
import io.evenwarm.agent.control.HumidityControl;
import io.evenwarm.agent.control.RelayWear;
import io.evenwarm.agent.control.SetPointProgramme;
import io.evenwarm.agent.guard.Guard;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.message.ControlReport;
import io.evenwarm.message.Finding;
import io.evenwarm.message.Moisture;
import io.evenwarm.message.Moment;
import io.evenwarm.quantity.Temperature;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * The control side of one cabinet's tick: set point in force, heat, moisture, tests, and what there
 * is to say of them. Control thread only.
 */
final class Steering {

    /** The air follows a set point that moves; a limit on its far side waits for it, K/h. */
    private static final double LIMITS_FOLLOW_KELVIN_PER_HOUR = 0.5;

    private static final double LIMIT_GRID_KELVIN = 0.05;
    private static final double SECONDS_PER_HOUR = 3600;

    /** A programme never brings the set point nearer to the cut-off. */
    private static final double CUT_OFF_DISTANCE_KELVIN = 1.0;

    private static final double LOWEST_SET_POINT_CELSIUS = 10;

    /** What is said of control may be so old. */
    private static final double REPORT_SECONDS = 30;

    private final CabinetPlan plan;
    private final Guard guard;
    private final HeaterControl control;
    private final TestBench tests;
    private final RelayWear wear;
    private final AirMoisture air;
    private final Optional<HumidityControl> humidity;
    private final Optional<SetPointProgramme> programme;
    private final ZoneId zone;
    private final DutyMemory duties;

    private Temperature base;
    private Temperature setPoint;
    private double lowest;
    private double highest;
    private double toldLowest;
    private double toldHighest;
    private boolean isTimeMissing;
    private double startedSeconds;
    private Optional<ControlReport> report = Optional.empty();
    private double reportSeconds = Double.MAX_VALUE;
    private Optional<Moisture> moisture = Optional.empty();

    Steering(
            CabinetPlan plan,
            Guard guard,
            Temperature base,
            long relayOperations,
            DutyMemory duties) {
        this.duties = duties;
        this.plan = plan;
        this.guard = guard;
        this.control = new HeaterControl(plan.control());
        this.tests = new TestBench(plan, control);
        this.wear = new RelayWear(plan.control(), relayOperations);
        this.air = new AirMoisture(plan);
        this.humidity = plan.keeping().humidity().map(HumidityControl::new);
        this.programme = plan.keeping().programme().map(SetPointProgramme::new);
        this.zone = ZoneId.systemDefault();
        this.base = base;
        this.setPoint = base;
        restartLimits();
    }

    private void restartLimits() {
        lowest = setPoint.celsius();
        highest = lowest;
        toldLowest = lowest;
        toldHighest = highest;
    }

    TestBench tests() {
        return tests;
    }

    /** Relay operations so far. */
    long relayOperations() {
        return wear.operations();
    }

    /** The set point in force: the base, and what a programme adds. */
    Temperature setPoint() {
        return setPoint;
    }

    /**
     * The set point for this tick; guard hears of it before it judges.
     *
     * @param commanded the configured or commanded set point
     * @param elapsedSeconds since the tick before, above 0
     */
    void moveSetPoint(Temperature commanded, Moment now, double elapsedSeconds) {
        if (!commanded.equals(base)) {
            base = commanded;
            setPoint = commanded;
            restartLimits();
            tests.end("the set point was changed");
        }
        if (programme.isEmpty()) {
            return;
        }
        startedSeconds += elapsedSeconds;
        SetPointProgramme steps = programme.get();
        boolean isKnown = !steps.needsTimeOfDay() || now.wallTrusted();
        isTimeMissing = !isKnown;
        double clock =
                steps.needsTimeOfDay()
                        ? LocalTime.ofInstant(now.wall(), zone).toSecondOfDay()
                        : startedSeconds;
        double wanted = base.celsius() + steps.step(isKnown, clock, elapsedSeconds);
        double most = guard.limits().cutOff().celsius() - CUT_OFF_DISTANCE_KELVIN;
        double celsius = Math.max(LOWEST_SET_POINT_CELSIUS, Math.min(most, wanted));
        if (celsius != setPoint.celsius()) {
            setPoint = new Temperature(celsius);
            guard.setPointMoved(setPoint);
        }
        follow(celsius, elapsedSeconds);
    }

    private void follow(double celsius, double elapsedSeconds) {
        double slowly = LIMITS_FOLLOW_KELVIN_PER_HOUR / SECONDS_PER_HOUR * elapsedSeconds;
        lowest = Math.min(celsius, lowest + slowly);
        highest = Math.max(celsius, highest - slowly);
        if (Math.abs(lowest - toldLowest) >= LIMIT_GRID_KELVIN
                || Math.abs(highest - toldHighest) >= LIMIT_GRID_KELVIN) {
            toldLowest = lowest;
            toldHighest = highest;
            guard.setPointFollows(new Temperature(lowest), new Temperature(highest));
        }
    }

    /** Full heat for so many seconds, withheld to test the cut-off relay, shall come after all. */
    void giveBack(double seconds) {
        control.giveBack(seconds);
    }

    /**
     * The heat wanted in this tick.
     *
     * @param now the tick's moment
     * @param isAllowed whether guard grants heat
     * @param isDoorOpen whether its switch or a person says that the door is open
     * @param heaterWasOn whether the heater was energised since the tick before
     */
    HeatRequest heat(
            Moment now,
            CabinetState state,
            boolean isAllowed,
            double blindDuty,
            List<Finding> findings,
            boolean isDoorOpen,
            double elapsedSeconds,
            boolean heaterWasOn) {
        wear.step(heaterWasOn, elapsedSeconds);
        tests.see(findings);
        reportSeconds += elapsedSeconds;
        HeatRequest request;
        if (isAllowed && !state.isBlind()) {
            duties.take(now, setPoint.celsius(), state.processCelsius())
                    .ifPresent(control::beginWith);
        }
        if (isAllowed && state.isBlind() && blindDuty > 0) {
            request = control.blind(blindDuty, elapsedSeconds, heaterWasOn);
        } else {
            request =
                    isAllowed && !state.isBlind()
                            ? control.step(
                                    setPoint.celsius(),
                                    state.processCelsius(),
                                    state.celsius(state.warmestAir()),
                                    isDoorOpen,
                                    elapsedSeconds,
                                    heaterWasOn)
                            : control.idle(elapsedSeconds, heaterWasOn);
        }
        tests.settle();
        return request;
    }

    /** Keeps which duty holds the cabinet, for the next start. */
    void keepDuty(StateNotes notes, Moment now) {
        duties.saveWhenDue(notes, now, setPoint.celsius(), control.heldDuty());
    }

    /** Looks at the moisture; what is to be switched stands in the two methods below. */
    void moisten(CabinetState state, double elapsedSeconds) {
        air.see(state);
        if (humidity.isEmpty()) {
            return;
        }
        if (air.humidityPercent().isPresent() && air.dewPoint().isPresent() && !state.isBlind()) {
            humidity.get()
                    .step(
                            air.humidityPercent().get(),
                            air.dewPoint().get().celsius(),
                            state.celsius(state.coldestAir()),
                            elapsedSeconds);
        } else {
            humidity.get().idle();
        }
    }

    boolean isHumidifierWanted() {
        return humidity.isPresent() && humidity.get().isHumidifierWanted();
    }

    boolean isVentWanted() {
        return humidity.isPresent() && humidity.get().isVentWanted();
    }

    /** Humidity, dew point and what acts on them; empty where there is nothing of it. */
    Optional<Moisture> moisture() {
        if (!air.hasHygrometer() && humidity.isEmpty()) {
            return Optional.empty();
        }
        Moisture now =
                new Moisture(
                        air.humidityPercent(),
                        air.dewPoint(),
                        humidity.map(HumidityControl::isHumidifierWanted),
                        humidity.map(HumidityControl::isVentWanted));
        if (moisture.isEmpty() || !moisture.get().equals(now)) {
            moisture = Optional.of(now);
        }
        return moisture;
    }

    /** What control has to say; made anew at most twice a minute, and when a test changes. */
    Optional<ControlReport> report() {
        if (reportSeconds < REPORT_SECONDS && !tests.isNews()) {
            return report;
        }
        reportSeconds = 0;
        List<String> notes = new ArrayList<>();
        wear.warning().ifPresent(notes::add);
        if (isTimeMissing) {
            notes.add("the clock is not trusted, so the programme waits at its base set point");
        }
        report =
                Optional.of(
                        new ControlReport(wear.operations(), activity(), tests.report(), notes));
        return report;
    }

    private Optional<String> activity() {
        Optional<String> test = tests.activity();
        if (test.isPresent() || programme.isEmpty()) {
            return test;
        }
        double target = base.celsius() + programme.get().targetKelvin();
        if (!programme.get().isMoving() && target == base.celsius()) {
            return Optional.empty();
        }
        return Optional.of(
                String.format(
                        Locale.ROOT,
                        "programme: %s %.2f °C",
                        programme.get().isMoving() ? "on the way to" : "at",
                        target));
    }

    CabinetPlan plan() {
        return plan;
    }
}
