package io.evenwarm.monitor.app;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Limits;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.alarm.AlarmDesk;
import io.evenwarm.monitor.alarm.AlarmSettings;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.alarm.NewtonTimeLeft.Assumptions;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.UUID;

/**
 * Times what the alarm logic makes of a second's snapshots of many cabinets, beside a bare pass
 * that reads every value in the same snapshots and does nothing with it.
 *
 * <p>One cabinet in twenty has findings that come and go, so that alarms occur, are suppressed and
 * return while the time is taken.
 */
final class AlarmBenchmark {

    static final int CABINETS = 1000;
    static final double SHARE_MAX = 0.10;

    private static final int AGENTS = 20;
    private static final int SECONDS = 120;
    private static final int WARM_UPS = 10;
    private static final int RUNS = 9;
    private static final long SEED = 20_020_801;
    private static final long SECOND_NANOS = 1_000_000_000L;
    private static final Instant BEGIN = Instant.parse("2026-03-01T00:00:00Z");

    private final MonotonicClock clock;
    private final List<AgentName> agents = new ArrayList<>();
    private final CabinetSnapshot[][] seconds = new CabinetSnapshot[SECONDS][CABINETS];
    private final AlarmDesk desk;
    private Now now = new Now(BEGIN, 0);
    private long changes;

    private AlarmBenchmark(MonotonicClock clock) {
        this.clock = clock;
        for (int agent = 0; agent < AGENTS; agent++) {
            agents.add(new AgentName("agent " + agent));
        }
        Random random = new Random(SEED);
        for (int second = 0; second < SECONDS; second++) {
            for (int cabinet = 0; cabinet < CABINETS; cabinet++) {
                seconds[second][cabinet] = snapshot(second, cabinet, random);
            }
        }
        Set<AgentName> all = new LinkedHashSet<>(agents);
        desk =
                AlarmDesk.begin(
                        // Else what comes and goes would soon only count as there, and rest.
                        new AlarmSettings(
                                AlarmSettings.DEFAULT.times().withoutComingAndGoing(),
                                AlarmSettings.DEFAULT.defaults(),
                                Map.of()),
                        new NewtonTimeLeft(Assumptions.DEFAULT),
                        all,
                        now);
    }

    /**
     * Medians, for one second of {@value AlarmBenchmark#CABINETS} cabinets.
     *
     * @param millis what the alarm logic takes
     * @param bareMillis what the bare pass takes
     * @param changes how many changes the alarm logic told of while it was timed
     * @param runs how many runs of two minutes were timed
     */
    record Result(double millis, double bareMillis, long changes, int runs) {

        /** Of one core. */
        double share() {
            return millis / 1000;
        }

        double ratio() {
            return millis / bareMillis;
        }

        boolean isWithinBar() {
            return share() < SHARE_MAX;
        }

        List<String> lines() {
            return List.of(
                    String.format(
                            Locale.ROOT,
                            "alarms of %,d cabinets at a snapshot a second, median of %d:",
                            CABINETS,
                            runs),
                    String.format(
                            Locale.ROOT,
                            "  alarm logic  %8.3f ms for each second, %.2f %% of a core (allowed"
                                    + " %.0f %%); %,d changes",
                            millis,
                            100 * share(),
                            100 * SHARE_MAX,
                            changes),
                    String.format(
                            Locale.ROOT,
                            "  bare pass    %8.3f ms, the alarm logic takes %.0f times that",
                            bareMillis,
                            ratio()));
        }
    }

    /** Takes some seconds on the calling thread. */
    static Result run(MonotonicClock clock) {
        return run(clock, WARM_UPS, RUNS);
    }

    /** With fewer runs, for a figure that is less sure. */
    static Result run(MonotonicClock clock, int warmUps, int runs) {
        return new AlarmBenchmark(clock).measure(warmUps, runs);
    }

    private Result measure(int warmUps, int runs) {
        double bareSum = 0;
        for (int warmUp = 0; warmUp < warmUps; warmUp++) {
            judge();
            bareSum += bare();
        }
        double[] millis = new double[runs];
        double[] bareMillis = new double[runs];
        long before = changes;
        for (int run = 0; run < runs; run++) {
            long begin = clock.nanos();
            judge();
            long middle = clock.nanos();
            bareSum += bare();
            long end = clock.nanos();
            millis[run] = (middle - begin) / 1e6 / SECONDS;
            bareMillis[run] = (end - middle) / 1e6 / SECONDS;
        }
        if (!(bareSum > 0)) {
            throw new IllegalStateException("the bare pass read nothing");
        }
        Arrays.sort(millis);
        Arrays.sort(bareMillis);
        return new Result(millis[runs / 2], bareMillis[runs / 2], changes - before, runs);
    }

    private void judge() {
        for (CabinetSnapshot[] second : seconds) {
            now = new Now(now.wall().plusSeconds(1), now.nanos() + SECOND_NANOS);
            for (int cabinet = 0; cabinet < CABINETS; cabinet++) {
                changes += desk.received(agents.get(cabinet % AGENTS), second[cabinet], now).size();
            }
            changes += desk.tick(now).size();
        }
    }

    private double bare() {
        double sum = 0;
        for (CabinetSnapshot[] second : seconds) {
            for (CabinetSnapshot snapshot : second) {
                sum += everyValue(snapshot);
            }
        }
        return sum;
    }

    /** Reads every value of a snapshot; their sum. */
    static double everyValue(CabinetSnapshot snapshot) {
        double sum = snapshot.findings().size();
        for (ProbeReading probe : snapshot.probes()) {
            sum +=
                    probe.reading()
                            .quantity()
                            .map(
                                    value ->
                                            value.fold(
                                                    Temperature::celsius,
                                                    RelativeHumidity::percent))
                            .orElse(0.0);
        }
        return sum;
    }

    /** One of an invented cabinet with six probes; one in twenty has findings at first. */
    static CabinetSnapshot snapshot(int second, int cabinet, Random random) {
        long nanos = second * SECOND_NANOS;
        Temperature setPoint = Temperature.ofCelsius(31.5);
        List<ProbeReading> probes = new ArrayList<>();
        probes.add(probe("top", ProbePlace.TOP, 31.9 + 0.1 * random.nextDouble(), nanos));
        probes.add(probe("middle", ProbePlace.MIDDLE, 31.5 + 0.1 * random.nextDouble(), nanos));
        probes.add(probe("bottom", ProbePlace.BOTTOM, 31.1 + 0.1 * random.nextDouble(), nanos));
        probes.add(probe("tub", ProbePlace.TUB, 31.4 + 0.1 * random.nextDouble(), nanos));
        probes.add(probe("room", ProbePlace.AMBIENT, 21 + random.nextDouble(), nanos));
        probes.add(
                new ProbeReading(
                        new ProbeName("damp"),
                        ProbePlace.MIDDLE,
                        new Reading.Good(RelativeHumidity.ofPercent(70), nanos)));
        List<Finding> findings = new ArrayList<>();
        if (cabinet % 20 == 0 && second < SECONDS / 3) {
            findings.add(finding(FindingCode.TOO_COLD, nanos));
            findings.add(finding(FindingCode.HEATER_DEAD, nanos));
        }
        return new CabinetSnapshot(
                new CabinetName("cabinet " + cabinet),
                second + 1L,
                new Moment(new BootId(new UUID(1, 1)), nanos, BEGIN.plusSeconds(second), true),
                probes,
                Optional.of(Temperature.ofCelsius(31.5 + 0.1 * random.nextDouble())),
                setPoint,
                setPoint,
                new Limits(
                        Temperature.ofCelsius(30.5),
                        Temperature.ofCelsius(32.5),
                        Temperature.ofCelsius(33.5),
                        Temperature.ofCelsius(34.5)),
                Duty.ofFraction(0.3),
                true,
                Optional.of(true),
                Optional.of(true),
                GuardState.ALLOWING,
                findings,
                false);
    }

    /** A good reading. */
    static ProbeReading probe(String name, ProbePlace place, double celsius, long nanos) {
        return new ProbeReading(
                new ProbeName(name),
                place,
                new Reading.Good(Temperature.ofCelsius(celsius), nanos));
    }

    private static Finding finding(FindingCode code, long nanos) {
        return new Finding(code, Optional.empty(), nanos, "evidence", "action", "advice");
    }
}
