package io.evenwarm.monitor.alert;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.agent.rehearsal.Everyday;
import io.evenwarm.agent.rehearsal.Mishap;
import io.evenwarm.agent.rehearsal.RunningScenario;
import io.evenwarm.agent.rehearsal.Scenario;
import io.evenwarm.agent.rehearsal.Weather;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.history.CabinetKey;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;

/**
 * Ten invented cabinets behind two agents, with doors that are opened, weather, and what goes wrong
 * with them: their agents' own control and guard on a virtual clock.
 */
final class SimulatedHouse implements AutoCloseable {

    static final AgentName EGG_ROOM = new AgentName("egg room");
    static final AgentName CELLAR = new AgentName("cellar");
    static final int CABINETS = 10;

    /** A cabinet's newest state is recorded so often. */
    static final int STEP_SECONDS = 5;

    private static final int CABINETS_OF_EACH = CABINETS / 2;
    private static final double MINUTE = 60;
    private static final double HOUR = 3600;
    private static final double DAY = 86_400;
    private static final double STEP_OF_ROOM_SECONDS = 900;
    private static final Weather WEATHER = new Weather(0, 3.5, 0);
    private static final double LITRES_PER_TUB = 15;
    private static final double COLD_ROOM_KELVIN = -30;

    /** How fast a room gets cold. */
    private static final double ROOM_SECONDS = 2 * HOUR;

    /** Whom a power cut takes. */
    enum Reach {
        ONE_CABINET,
        /** The cabinets of one agent, and that agent. */
        AGENT,
        /** The cabinets of one agent, whose agent has a battery. */
        CABINETS_OF_AGENT,
        /** All, and the monitor and the router with them. */
        HOUSE
    }

    /**
     * Something that goes wrong, and must reach a person.
     *
     * @param name in words
     * @param reach whom it takes
     * @param cabinets which are affected
     * @param atSeconds when
     * @param forSeconds until a person has mended it
     * @param what it is
     * @param names any of these findings names it; empty where its silence does
     */
    record Trouble(
            String name,
            Reach reach,
            List<Integer> cabinets,
            double atSeconds,
            double forSeconds,
            Mishap what,
            Set<FindingCode> names) {

        double untilSeconds() {
            return atSeconds + forSeconds;
        }
    }

    /** A kind of trouble that is still to be given a time and a place. */
    private record Kind(
            String name, Reach reach, double hours, Mishap what, Set<FindingCode> names) {}

    private static final List<Kind> KINDS =
            List.of(
                    one("heater broken", 5, new PlantFault.HeaterOpen(), FindingCode.HEATER_DEAD),
                    one(
                            "heater stuck on",
                            3,
                            new PlantFault.HeaterRelayWelded(),
                            FindingCode.HEATER_STUCK_ON,
                            FindingCode.CUT_OFF_TRIPPED),
                    one(
                            "fan stopped",
                            4,
                            new PlantFault.FanStopped(),
                            FindingCode.FAN_STOPPED,
                            FindingCode.FAN_WEAK),
                    new Kind(
                            "mains off in the whole house",
                            Reach.HOUSE,
                            4,
                            new Mishap.MainsCut(false),
                            Set.of(FindingCode.MAINS_RETURNED)),
                    one(
                            "probe unplugged",
                            20,
                            new PlantFault.ProbeDropout(middle()),
                            FindingCode.PROBE_LOST),
                    one(
                            "door left ajar",
                            2,
                            new PlantFault.DoorOpen(),
                            FindingCode.DOOR_OPEN,
                            FindingCode.TOO_COLD),
                    new Kind(
                            "mains off at one agent, no battery",
                            Reach.AGENT,
                            2,
                            new Mishap.MainsCut(false),
                            Set.of(FindingCode.MAINS_RETURNED)),
                    one(
                            "probe fallen out",
                            6,
                            new PlantFault.ProbeFellOut(new ProbeName("bottom")),
                            FindingCode.PROBE_FALLEN_OUT),
                    one(
                            "probe frozen",
                            24,
                            new PlantFault.ProbeFrozen(middle()),
                            FindingCode.PROBE_FROZEN),
                    new Kind(
                            "mains off at five cabinets, agent on a battery",
                            Reach.CABINETS_OF_AGENT,
                            1.5,
                            new Mishap.MainsCut(true),
                            Set.of(FindingCode.HEATER_DEAD)),
                    one(
                            "probes' bus hangs",
                            3,
                            new PlantFault.BusHang(),
                            FindingCode.BLIND,
                            FindingCode.PROBE_LOST),
                    new Kind(
                            "mains off in the whole house, shortly",
                            Reach.HOUSE,
                            0.7,
                            new Mishap.MainsCut(false),
                            Set.of(FindingCode.MAINS_RETURNED)),
                    one(
                            "room's heating failed, window open",
                            12,
                            new PlantFault.AmbientStep(COLD_ROOM_KELVIN),
                            FindingCode.ROOM_TOO_COLD,
                            FindingCode.TOO_COLD),
                    one(
                            "fan slow",
                            8 * 24,
                            new PlantFault.FanSlow(0.3),
                            FindingCode.FAN_WEAK,
                            FindingCode.FAN_STOPPED),
                    one(
                            "heater weak",
                            8 * 24,
                            new PlantFault.HeaterWeak(0.5),
                            FindingCode.HEATER_WEAK),
                    one(
                            "probe drifting",
                            8 * 24,
                            new PlantFault.ProbeDrift(new ProbeName("top"), 0.1),
                            FindingCode.PROBE_DRIFTING));

    private static ProbeName middle() {
        return new ProbeName("middle");
    }

    private static Kind one(String name, double hours, PlantFault fault, FindingCode... names) {
        return new Kind(name, Reach.ONE_CABINET, hours, new Mishap.InCabinet(fault), Set.of(names));
    }

    private final List<Trouble> troubles;
    private final List<RunningScenario> cabinets = new ArrayList<>();
    private final List<CabinetKey> keys = new ArrayList<>();
    private final List<List<Everyday>> everydays = new ArrayList<>();
    private final ExecutorService threads =
            Executors.newFixedThreadPool(Runtime.getRuntime().availableProcessors());

    /**
     * @param seed of all that is random
     * @param days how long it goes on
     * @param count how many of its troubles come, the quick ones first
     */
    SimulatedHouse(long seed, double days, int count) {
        SplittableRandom random = new SplittableRandom(seed);
        troubles = troubles(random, days, count);
        for (int cabinet = 0; cabinet < CABINETS; cabinet++) {
            SplittableRandom own = random.split();
            double coldFrom = Double.POSITIVE_INFINITY;
            double coldTo = Double.NEGATIVE_INFINITY;
            List<Scenario.TimedFault> faults = new ArrayList<>();
            for (Trouble trouble : troubles) {
                if (trouble.cabinets().contains(cabinet)) {
                    if (trouble.names().contains(FindingCode.ROOM_TOO_COLD)) {
                        coldFrom = trouble.atSeconds();
                        coldTo = trouble.untilSeconds();
                        continue;
                    }
                    faults.add(
                            new Scenario.TimedFault(
                                    trouble.atSeconds(),
                                    OptionalDouble.of(trouble.forSeconds()),
                                    trouble.what()));
                }
            }
            faults.addAll(coldRoom(days, coldFrom, coldTo));
            List<Everyday> everyday = everyday(own, days);
            everydays.add(everyday);
            keys.add(key(cabinet));
            cabinets.add(
                    new RunningScenario(
                            new Scenario(
                                    own.nextInt(1_000_000),
                                    days * DAY,
                                    cabinet(own, cabinet < CABINETS_OF_EACH ? 20 : 17),
                                    faults,
                                    everyday,
                                    WEATHER,
                                    List.of()),
                            keys.get(cabinet).cabinet()));
        }
    }

    /** A cabinet of the agent's own catalogue, in a room that people live with. */
    private static Scenario.Cabinet cabinet(SplittableRandom random, double roomCelsius) {
        double volume = random.nextDouble(80, 800);
        double heater = random.nextDouble(1.8, 4);
        CabinetBuild build =
                CabinetBuild.ofVolume(volume, random.nextDouble(0.5, 1.2), heater)
                        .withTubs(
                                (int) Math.max(1, random.nextDouble(volume / LITRES_PER_TUB)),
                                random.nextDouble(0.8, 2))
                        .withAmbient(roomCelsius, random.nextDouble(0.3, 1.5))
                        .withNoise(random.nextDouble(0.03));
        return new Scenario.Cabinet(
                build,
                31.5,
                33.5,
                34.5,
                true,
                random.nextInt(5) == 0,
                random.nextInt(3) == 0,
                List.of("top", "middle", "bottom"),
                Scenario.Start.SETTLED);
    }

    private static CabinetKey key(int cabinet) {
        return new CabinetKey(
                cabinet < CABINETS_OF_EACH ? EGG_ROOM : CELLAR,
                new CabinetName("cabinet " + (cabinet + 1)));
    }

    /** One after the other, so that it is plain which notice is about which. */
    private static List<Trouble> troubles(SplittableRandom random, double days, int count) {
        List<Trouble> troubles = new ArrayList<>();
        double slot = days * DAY / count;
        int next = 0;
        for (int i = 0; i < count; i++) {
            Kind kind = KINDS.get(i);
            double room = slot - kind.hours * HOUR;
            // Not right at the begin: what is learned of a cabinet takes a day or two.
            double at =
                    i * slot
                            + (i == 0 ? Math.min(2 * DAY, room / 2) : 0)
                            + random.nextDouble(room / 4);
            List<Integer> affected = new ArrayList<>();
            for (int cabinet = 0; cabinet < CABINETS; cabinet++) {
                boolean isHit =
                        switch (kind.reach) {
                            case HOUSE -> true;
                            case AGENT -> cabinet < CABINETS_OF_EACH;
                            case CABINETS_OF_AGENT -> cabinet >= CABINETS_OF_EACH;
                            case ONE_CABINET -> cabinet == next % CABINETS;
                        };
                if (isHit) {
                    affected.add(cabinet);
                }
            }
            next += kind.reach == Reach.ONE_CABINET ? 1 : 0;
            troubles.add(
                    new Trouble(
                            kind.name,
                            kind.reach,
                            List.copyOf(affected),
                            Math.rint(at),
                            kind.hours * HOUR,
                            kind.what,
                            kind.names));
        }
        return List.copyOf(troubles);
    }

    /** A room that gets cold and warm again, in steps so small that they are none. */
    private static List<Scenario.TimedFault> coldRoom(double days, double from, double to) {
        List<Scenario.TimedFault> steps = new ArrayList<>();
        double cold = 0;
        for (double at = 0; at + STEP_OF_ROOM_SECONDS <= days * DAY; at += STEP_OF_ROOM_SECONDS) {
            double end = at >= from && at < to ? COLD_ROOM_KELVIN : 0;
            cold = end + (cold - end) * Math.exp(-STEP_OF_ROOM_SECONDS / ROOM_SECONDS);
            if (cold != 0) {
                steps.add(
                        new Scenario.TimedFault(
                                at,
                                OptionalDouble.of(STEP_OF_ROOM_SECONDS),
                                new PlantFault.AmbientStep(cold)));
            }
        }
        return steps;
    }

    /** Two looks a day and a reloading a week, by daylight; half of the reloadings announced. */
    private static List<Everyday> everyday(SplittableRandom random, double days) {
        List<Everyday> everyday = new ArrayList<>();
        for (double day = 0; day < days; day++) {
            double morning = day * DAY + 8 * HOUR;
            for (int half = 0; half < 2; half++) {
                everyday.add(
                        new Everyday(
                                Math.rint(morning + (6.5 * half + random.nextDouble(6)) * HOUR),
                                Math.rint(random.nextDouble(10, 60)),
                                0,
                                false));
            }
            if (day % 7 == 3) {
                everyday.add(
                        new Everyday(
                                Math.rint(morning + (6 + random.nextDouble(0.5)) * HOUR),
                                Math.rint(random.nextDouble(10, 15) * MINUTE),
                                random.nextDouble(0.1, 0.4),
                                random.nextBoolean()));
            }
        }
        return everyday;
    }

    List<Trouble> troubles() {
        return troubles;
    }

    /** Whether a door was open for a reloading at most so long ago. */
    boolean isReloading(int cabinet, double second, double agoSeconds) {
        return everydays.get(cabinet).stream()
                .anyMatch(
                        happening ->
                                happening.freshShare() > 0
                                        && second >= happening.atSeconds()
                                        && second < happening.atSeconds() + agoSeconds);
    }

    List<CabinetKey> keys() {
        return keys;
    }

    /** Whether the monitor and all else in the house is without mains. */
    boolean isDark(double second) {
        return troubles.stream()
                .anyMatch(
                        trouble ->
                                trouble.reach() == Reach.HOUSE
                                        && second >= trouble.atSeconds()
                                        && second < trouble.untilSeconds());
    }

    /**
     * Lets time go on.
     *
     * @param seconds a multiple of {@value #STEP_SECONDS}
     * @return for each cabinet, what a monitor has of it at the end of each step; empty where
     *     nothing was said in that step
     */
    List<List<Optional<CabinetSnapshot>>> goOn(int seconds) {
        List<Future<List<Optional<CabinetSnapshot>>>> running = new ArrayList<>();
        for (RunningScenario cabinet : cabinets) {
            running.add(threads.submit(() -> goOn(cabinet, seconds)));
        }
        List<List<Optional<CabinetSnapshot>>> all = new ArrayList<>();
        for (Future<List<Optional<CabinetSnapshot>>> one : running) {
            try {
                all.add(one.get());
            } catch (ExecutionException e) {
                throw new AssertionError("a cabinet's simulation failed", e.getCause());
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                throw new AssertionError("interrupted", e);
            }
        }
        return all;
    }

    private static List<Optional<CabinetSnapshot>> goOn(RunningScenario cabinet, int seconds) {
        List<Optional<CabinetSnapshot>> said = new ArrayList<>();
        Optional<CabinetSnapshot> newest = Optional.empty();
        for (int second = 1; second <= seconds; second++) {
            Optional<CabinetSnapshot> now = cabinet.second();
            newest = now.isPresent() ? now : newest;
            if (second % STEP_SECONDS == 0) {
                said.add(newest);
                newest = Optional.empty();
            }
        }
        return said;
    }

    /** A person goes to a cabinet and lets it heat again. */
    void reset(CabinetKey key) {
        cabinets.get(keys.indexOf(key)).say(new Command.ResetCutOff(key.cabinet()));
    }

    double coldestEggCelsius(int cabinet) {
        return cabinets.get(cabinet).truth().coldestTubCelsius();
    }

    double warmestEggCelsius(int cabinet) {
        return cabinets.get(cabinet).truth().warmestTubCelsius();
    }

    @Override
    public void close() {
        threads.shutdownNow();
        cabinets.forEach(RunningScenario::close);
    }
}
