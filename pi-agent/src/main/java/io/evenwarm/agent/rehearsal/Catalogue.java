package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.message.ProbeName;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.BooleanSupplier;

/**
 * The catalogue: any kind of fault in any cabinet of the range that the agent must keep safe, drawn
 * by seed. One seed draws the same cabinet for every kind.
 */
public final class Catalogue {

    /** A fault comes after at least so much sound running, in which the guard may learn. */
    public static final double HEALTHY_HOURS_LEAST = 24;

    /** And at most so much. */
    public static final double HEALTHY_HOURS_MOST = 36;

    /** How long after the fault a run goes on. */
    public static final double AFTER_HOURS = 12;

    /** The same for what shows slowly: a weak heater, a drifting probe. */
    public static final double AFTER_SLOW_HOURS = 28 * 24;

    /** The same for a stuck cut-off relay, which is tested once a day. */
    public static final double AFTER_RELAY_HOURS = 36;

    static final double SET_POINT = 31.5;
    static final double CUT_OFF = 33.5;
    static final double CEILING = 34.5;
    static final double COLDEST_ROOM = 12;
    static final double WARMEST_ROOM = 30;

    private static final double MOST_SWING_KELVIN = 4;
    private static final double LITRES_PER_TUB_FULL = 15;

    /**
     * The warmest that a cabinet may come to rest at with its heater off: nobody can keep eggs
     * below the ceiling in a room that is above it.
     */
    private static final double WARMEST_REST = CEILING - 0.5;

    private static final double COLDEST_STEPPED_ROOM = 0;
    private static final double SECONDS_PER_HOUR = 3600;
    private static final double DAY = 86_400;

    private Catalogue() {}

    /** The run of one kind of fault that a seed draws. */
    public static Scenario scenario(FaultKind kind, long seed) {
        Scenario.Cabinet cabinet = cabinet(seed);
        Draw draw = new Draw(seed, kind.word());
        if (kind == FaultKind.HEATER_STUCK_ON && draw.inShare(0.5)) {
            // Its bar holds for a room at 12 °C, so that half of its runs are in one.
            cabinet = cabinet.withBuild(cabinet.build().withAmbient(COLDEST_ROOM, 0));
        }
        double at =
                StrictMath.rint(
                        SECONDS_PER_HOUR * draw.between(HEALTHY_HOURS_LEAST, HEALTHY_HOURS_MOST));
        Scenario.TimedFault fault = fault(kind, draw, cabinet, at);
        double duration = at + SECONDS_PER_HOUR * hoursAfter(kind);
        return new Scenario(seed, duration, cabinet, List.of(fault), openings(seed, duration));
    }

    /**
     * Runs what {@link #scenario} draws.
     *
     * @param isStopped as in {@link Rehearsal#run(Scenario, BooleanSupplier)}
     */
    public static CatalogueRun run(FaultKind kind, long seed, BooleanSupplier isStopped) {
        Scenario scenario = scenario(kind, seed);
        Verdict verdict = Rehearsal.run(scenario, isStopped);
        return CatalogueRun.of(kind, scenario, verdict);
    }

    private static double hoursAfter(FaultKind kind) {
        return switch (kind) {
            case HEATER_WEAK, PROBE_DRIFT -> AFTER_SLOW_HOURS;
            case CUT_OFF_RELAY_STUCK -> AFTER_RELAY_HOURS;
            default -> AFTER_HOURS;
        };
    }

    /** The cabinet that a seed draws. */
    static Scenario.Cabinet cabinet(long seed) {
        Draw draw = new Draw(seed, "cabinet");
        double volume = draw.evenlyInRatio(60, 900);
        double wall = draw.between(0.4, 1.4);
        double heater = draw.between(1.5, 5);
        int tubs = (int) StrictMath.max(1, draw.between(0, volume / LITRES_PER_TUB_FULL));
        double tubKilograms = draw.between(0.8, 2);
        double room = draw.between(COLDEST_ROOM, WARMEST_ROOM);
        double swing =
                StrictMath.min(
                        draw.between(0, MOST_SWING_KELVIN),
                        StrictMath.min(room - COLDEST_ROOM, WARMEST_ROOM - room));
        CabinetBuild build =
                CabinetBuild.ofVolume(volume, wall, heater)
                        .withTubs(tubs, tubKilograms)
                        .withAmbient(room, swing)
                        .withNoise(draw.between(0, 0.03));
        List<String> probes = new ArrayList<>(List.of("top", "middle", "bottom"));
        for (String more : List.of(ScenarioPlan.GUARD, "tub", ScenarioPlan.ROOM)) {
            if (draw.inShare(0.3)) {
                probes.add(more);
            }
        }
        return new Scenario.Cabinet(
                build,
                SET_POINT,
                CUT_OFF,
                CEILING,
                true,
                draw.inShare(0.2),
                draw.inShare(0.3),
                probes,
                Scenario.Start.SETTLED);
    }

    /** Two short looks inside a day, 10 to 60 s each. */
    static List<Everyday> openings(long seed, double durationSeconds) {
        Draw draw = new Draw(seed, "door");
        List<Everyday> openings = new ArrayList<>();
        for (double day = 0; day < durationSeconds; day += DAY) {
            for (int half = 0; half < 2; half++) {
                double at = day + DAY / 2 * half + draw.between(0, DAY / 2 - 120);
                openings.add(
                        Everyday.look(StrictMath.rint(at), StrictMath.rint(draw.between(10, 60))));
            }
        }
        return openings;
    }

    /** What a kind's draw comes to in this cabinet, at this time. */
    static Scenario.TimedFault fault(
            FaultKind kind, Draw draw, Scenario.Cabinet cabinet, double atSeconds) {
        Mishap what = kind.make(keys(kind, draw, cabinet));
        return new Scenario.TimedFault(atSeconds, lasting(kind, draw), what);
    }

    private static FaultKeys keys(FaultKind kind, Draw draw, Scenario.Cabinet cabinet) {
        return switch (kind) {
            case HEATER_WEAK -> FaultKeys.of(draw.between(0.5, 0.8));
            case FAN_SLOW -> FaultKeys.of(draw.between(0.3, 0.6));
            case PROBE_DRIFT ->
                    FaultKeys.of(
                            probeInside(draw, cabinet),
                            (draw.inShare(0.5) ? 1 : -1) * draw.between(0.02, 0.2));
            case PROBE_NOISE ->
                    FaultKeys.of(probeInside(draw, cabinet), draw.evenlyInRatio(0.2, 2));
            case PROBE_FROZEN, PROBE_DROPOUT, PROBE_FELL_OUT ->
                    FaultKeys.of(probeInside(draw, cabinet), 0);
            case PROBES_SWAPPED -> swapped(draw, cabinet);
            case BUS_ERRORS -> FaultKeys.of(draw.between(0.05, 0.95));
            case AMBIENT_STEP -> FaultKeys.of(step(draw, cabinet.build()));
            case CLOCK_STEP ->
                    FaultKeys.of(
                            StrictMath.rint(
                                    (draw.inShare(0.5) ? 1 : -1)
                                            * draw.evenlyInRatio(60, 30 * DAY)));
            case AGENT_CRASH -> FaultKeys.of(StrictMath.rint(draw.evenlyInRatio(2, 120)));
            case RELAY_CHATTER -> FaultKeys.of(StrictMath.rint(draw.between(4, 20)));
            case MAINS_CUT ->
                    new FaultKeys(Optional.empty(), Optional.empty(), 0, draw.inShare(0.3));
            default -> FaultKeys.NONE;
        };
    }

    /** Top and another: two probes at one height can't be told apart. */
    private static FaultKeys swapped(Draw draw, Scenario.Cabinet cabinet) {
        List<String> others = new ArrayList<>(cabinet.probeNames());
        others.remove("top");
        others.remove(ScenarioPlan.GUARD);
        return new FaultKeys(
                Optional.of(new ProbeName("top")),
                Optional.of(new ProbeName(draw.oneOf(others))),
                0,
                false);
    }

    private static OptionalDouble lasting(FaultKind kind, Draw draw) {
        return switch (kind) {
            case DOOR_OPEN -> OptionalDouble.of(StrictMath.rint(draw.evenlyInRatio(600, 7200)));
            case MAINS_CUT -> OptionalDouble.of(StrictMath.rint(draw.evenlyInRatio(300, 21_600)));
            case CONTROL_HANG -> OptionalDouble.of(StrictMath.rint(draw.evenlyInRatio(10, 3600)));
            default -> OptionalDouble.empty();
        };
    }

    private static ProbeName probeInside(Draw draw, Scenario.Cabinet cabinet) {
        List<String> inside = new ArrayList<>(cabinet.probeNames());
        inside.remove(ScenarioPlan.ROOM);
        return new ProbeName(draw.oneOf(inside));
    }

    /** Down to a freezing room, or up to where the eggs would just stay below the ceiling. */
    private static double step(Draw draw, CabinetBuild build) {
        double down = build.ambientCelsius() - build.ambientSwingKelvin() - COLDEST_STEPPED_ROOM;
        double up =
                WARMEST_REST
                        - DueFindings.restCelsius(
                                build, build.ambientCelsius() + build.ambientSwingKelvin());
        return draw.inShare(0.5) || up <= 1 ? -draw.between(1, down) : draw.between(1, up);
    }
}
