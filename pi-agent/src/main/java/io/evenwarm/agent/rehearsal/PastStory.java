package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.message.ProbeName;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;

/**
 * An invented past of some cabinets that stand in one room: weeks of ordinary days with weather,
 * looks inside and a reloading a week, and in them a fan that weakens and is replaced, a door left
 * ajar, a night without mains, a probe that drifts and is replaced. Nothing of it ever happened.
 *
 * <p>Each comes once, at a fixed share of the days: the fan in the second cabinet, the door in the
 * first, the probe in the last, the mains in all. One seed gives one past.
 */
public final class PastStory {

    /** So many days it needs, that one thing does not run into the next. */
    public static final int DAYS_LEAST = 20;

    /** So many it may have. */
    public static final int DAYS_MOST = 365;

    private static final double MINUTE = 60;
    private static final double HOUR = 3600;
    private static final double DAY = 24 * HOUR;

    private static final double FAN_WEAKENS_FROM = 0.15;
    private static final double FAN_IS_REPLACED = 0.4;
    private static final double WEAKEST_FLOW = 0.4;
    private static final int WEAKER_TIMES = 24;
    private static final double DOOR_IS_AJAR = 0.5;
    private static final double MAINS_ARE_OFF = 0.7;
    private static final double PROBE_DRIFTS_FROM = 0.8;

    private static final double AJAR_SECONDS = 80 * MINUTE;
    private static final double CUT_SECONDS = 5 * HOUR;
    private static final double DRIFT_SECONDS = 2.5 * DAY;
    private static final double DRIFT_KELVIN_PER_HOUR = 0.03;
    private static final double REPLACING_SECONDS = 12 * MINUTE;

    private static final double WEATHER_KELVIN = 1.5;
    private static final int RELOADING_WEEKDAY = 3;
    private static final int DAYS_OF_WEEK = 7;

    private final Instant begin;
    private final ZonedDateTime firstMidnight;
    private final int days;
    private final long seed;

    /**
     * @param until when it ends
     * @param zone whose nights and mornings it has
     * @param days how long it lasts, {@value #DAYS_LEAST} to {@value #DAYS_MOST}
     * @param seed of noise, doors and loads
     * @throws IllegalArgumentException when it would be too short or too long
     */
    public PastStory(Instant until, ZoneId zone, int days, long seed) {
        if (days < DAYS_LEAST || days > DAYS_MOST) {
            throw new IllegalArgumentException(
                    "an invented past must have "
                            + DAYS_LEAST
                            + " to "
                            + DAYS_MOST
                            + " days but had "
                            + days);
        }
        this.begin = until.minus(Duration.ofDays(days));
        this.firstMidnight = begin.atZone(zone).with(LocalTime.MIDNIGHT);
        this.days = days;
        this.seed = seed;
    }

    /** When it begins. */
    public Instant begin() {
        return begin;
    }

    /** How long it lasts, s. */
    public long seconds() {
        return days * (long) DAY;
    }

    /**
     * One cabinet's part in it.
     *
     * @param plan of the cabinet
     * @param build what it is made of
     * @param index which of the cabinets it is, from 0
     * @param count how many cabinets there are
     */
    public RunningScenario begin(CabinetPlan plan, CabinetBuild build, int index, int count) {
        Scenario scenario =
                new Scenario(
                        seed + index,
                        seconds(),
                        cabinet(plan, build),
                        mishaps(plan, index, count),
                        everyday(index, count),
                        new Weather(0, WEATHER_KELVIN, seed % 10 / 10.0),
                        List.of());
        return new RunningScenario(scenario, plan, begin, seed);
    }

    private static Scenario.Cabinet cabinet(CabinetPlan plan, CabinetBuild build) {
        return new Scenario.Cabinet(
                build,
                plan.setPoint().celsius(),
                plan.limits().cutOff().celsius(),
                plan.limits().ceiling().celsius(),
                plan.hasCutOffRelay(),
                plan.hasFanTachometer(),
                plan.hasDoorSwitch(),
                plan.probes().stream().map(probe -> probe.name().value()).toList(),
                Scenario.Start.SETTLED,
                plan.control());
    }

    private List<Scenario.TimedFault> mishaps(CabinetPlan plan, int index, int count) {
        List<Scenario.TimedFault> mishaps = new ArrayList<>();
        mishaps.add(lasting(mainsCut(), CUT_SECONDS, new Mishap.MainsCut(false)));
        if (index == fanCabinet(count)) {
            mishaps.addAll(weakeningFan());
        }
        if (index == 0) {
            mishaps.add(
                    lasting(
                            at(dayAt(DOOR_IS_AJAR), "18:20"),
                            AJAR_SECONDS,
                            new Mishap.InCabinet(new PlantFault.DoorOpen())));
        }
        if (index == count - 1) {
            mishaps.add(
                    lasting(
                            at(dayAt(PROBE_DRIFTS_FROM), "04:00"),
                            DRIFT_SECONDS,
                            new Mishap.InCabinet(
                                    new PlantFault.ProbeDrift(
                                            driftingProbe(plan), DRIFT_KELVIN_PER_HOUR))));
        }
        return mishaps;
    }

    private static int fanCabinet(int count) {
        return Math.min(1, count - 1);
    }

    /** The second in the air, as often the middle one; the only one where there is no other. */
    private static ProbeName driftingProbe(CabinetPlan plan) {
        List<ProbeName> inAir =
                plan.probes().stream()
                        .filter(probe -> probe.place().kind().isAir())
                        .map(ProbePlan::name)
                        .toList();
        return inAir.get(Math.min(1, inAir.size() - 1));
    }

    private static Scenario.TimedFault lasting(double at, double seconds, Mishap what) {
        return new Scenario.TimedFault(at, OptionalDouble.of(seconds), what);
    }

    private double mainsCut() {
        return at(dayAt(MAINS_ARE_OFF), "01:40");
    }

    private int dayAt(double share) {
        return (int) Math.round(share * days);
    }

    /** Seconds from the begin to an hour of the day's clock, whatever the clocks did meanwhile. */
    private double at(int day, String hour) {
        Instant moment = firstMidnight.plusDays(day).with(LocalTime.parse(hour)).toInstant();
        return Math.max(0, Duration.between(begin, moment).toSeconds());
    }

    /** Less and less air; each time the one before ends in the second in which the next begins. */
    private List<Scenario.TimedFault> weakeningFan() {
        double from = at(dayAt(FAN_WEAKENS_FROM), "00:00");
        double until = at(dayAt(FAN_IS_REPLACED), "10:00") + REPLACING_SECONDS / 2;
        double step = (until - from) / WEAKER_TIMES;
        List<Scenario.TimedFault> weaker = new ArrayList<>();
        for (int i = 0; i < WEAKER_TIMES; i++) {
            double share = 1 - (1 - WEAKEST_FLOW) * (i + 1) / WEAKER_TIMES;
            weaker.add(
                    lasting(
                            from + i * step,
                            step,
                            new Mishap.InCabinet(new PlantFault.FanSlow(share))));
        }
        return weaker;
    }

    /** Two looks a day, a reloading a week, and the day on which the fan is replaced. */
    private List<Everyday> everyday(int index, int count) {
        Draw draw = new Draw(seed + index, "past");
        List<Everyday> everyday = new ArrayList<>();
        for (int day = 1; day < days; day++) {
            everyday.add(look(at(day, "08:00") + Math.rint(draw.between(0, 2 * HOUR)), draw));
            everyday.add(look(at(day, "19:00") + Math.rint(draw.between(0, 3 * HOUR)), draw));
            if (day % DAYS_OF_WEEK == RELOADING_WEEKDAY) {
                everyday.add(
                        new Everyday(
                                at(day, "15:00") + Math.rint(draw.between(0, HOUR)),
                                Math.rint(draw.between(6, 12) * MINUTE),
                                draw.between(0.05, 0.25),
                                true));
            }
        }
        if (index == fanCabinet(count)) {
            everyday.add(
                    new Everyday(at(dayAt(FAN_IS_REPLACED), "10:00"), REPLACING_SECONDS, 0, true));
        }
        return everyday;
    }

    private static Everyday look(double at, Draw draw) {
        return Everyday.look(at, Math.rint(draw.between(10, 40)));
    }
}
