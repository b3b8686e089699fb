package io.evenwarm.monitor.evenness;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.CabinetSummaries;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.ProbeSummaries;
import io.evenwarm.monitor.history.Summaries;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;

/**
 * An invented cabinet whose long record is looked at: its layers part as the heat does, its days
 * and seasons go on, and a probe drifts or a fan weakens where a test says so.
 */
final class CabinetAirTest {

    private static final CabinetKey NORTH =
            new CabinetKey(new AgentName("egg room"), new CabinetName("north"));
    private static final Instant BEGIN = Instant.parse("2030-01-01T00:00:00Z");
    private static final long STEP = AirStretch.LENGTH_MILLIS;
    private static final int STEPS_A_DAY = 144;

    /** What is wrong at a time, in days: K to add to what a probe at that place reads. */
    private interface Fault {
        double of(String probe, double day);
    }

    private final Random random = new Random(9);
    private List<String> probes = List.of("top", "middle", "bottom", "shelf 1 left");
    private List<String> places = probes;
    private Fault fault = (probe, day) -> 0;
    private int stoppedFromDay = Integer.MAX_VALUE;

    private AirTable table(int fromDay, int toDay) {
        List<Summaries.Builder> builders = new ArrayList<>();
        probes.forEach(probe -> builders.add(new Summaries.Builder(STEP)));
        Summaries.Builder setPoint = new Summaries.Builder(STEP);
        Summaries.Builder heater = new Summaries.Builder(STEP);
        for (int i = fromDay * STEPS_A_DAY; i < toDay * STEPS_A_DAY; i++) {
            long begin = BEGIN.toEpochMilli() + i * STEP;
            double day = i / (double) STEPS_A_DAY;
            double duty =
                    0.3
                            + 0.15 * Math.sin(2 * Math.PI * day / 365)
                            + 0.05 * Math.sin(2 * Math.PI * day)
                            + 0.01 * random.nextGaussian();
            double parting = 0.1 + 1.2 * duty + (day >= stoppedFromDay ? 3 : 0);
            for (int p = 0; p < probes.size(); p++) {
                String place = places.get(p);
                double up =
                        place.equals("top")
                                ? 0.5
                                : place.equals("bottom") ? -0.5 : place.equals("middle") ? 0 : 0.3;
                add(
                        builders.get(p),
                        begin,
                        31.5
                                + up * parting
                                + fault.of(probes.get(p), day)
                                + 0.02 * random.nextGaussian());
            }
            add(setPoint, begin, 31.5);
            add(heater, begin, duty);
        }
        List<ProbeSummaries> summaries = new ArrayList<>();
        for (int p = 0; p < probes.size(); p++) {
            summaries.add(
                    new ProbeSummaries(
                            new ProbeName(probes.get(p)),
                            ProbePlace.of(places.get(p)),
                            ProbeCurve.Unit.CELSIUS,
                            builders.get(p).build()));
        }
        return AirTable.of(
                NORTH,
                new TimeSpan(at(fromDay), at(toDay)),
                summaries,
                new CabinetSummaries(setPoint.build(), heater.build()));
    }

    private static void add(Summaries.Builder builder, long begin, double value) {
        builder.add(begin, value, value, value, 60, 0);
    }

    private static Instant at(double day) {
        return BEGIN.plus(Duration.ofSeconds(Math.round(day * 86_400)));
    }

    private static CabinetAir air(ProbeEntry... entries) {
        List<KnownSensor> sensors =
                List.of("top", "middle", "bottom", "lower", "shelf 1 left", "a", "b").stream()
                        .map(name -> new KnownSensor(NORTH, new ProbeName(name), BEGIN, "ds18b20"))
                        .toList();
        return new CabinetAir(NORTH, new ProbeRecord(List.of(entries), sensors), Optional.empty());
    }

    private CabinetAir run(CabinetAir air, int fromDay, int toDay) {
        for (int day = fromDay; day < toDay; day += 30) {
            air.add(table(day, Math.min(toDay, day + 30)));
        }
        return air;
    }

    private static ProbeEntry check(String probe, double day, double offset, double u) {
        return new ProbeEntry(
                NORTH,
                new ProbeName(probe),
                at(day),
                ProbeEntry.Kind.SIDE_BY_SIDE,
                "invented",
                Optional.of(Estimate.systematic(offset, u)));
    }

    private static String word(CabinetAir air) {
        return air.flow().state().fold(l -> "learning", s -> "steady", w -> "weak", s -> "stopped");
    }

    @Test
    void aYearWithSeasonsAndSoundProbesIsSteadyAndNoneIsAstray() {
        CabinetAir air = air();
        for (int day = 0; day < 365; day += 5) {
            air.add(table(day, day + 5));
            assertEquals(List.of(), air.astray(), "by day " + day);
        }
        assertEquals("steady", word(air));
        assertEquals(at(0).toEpochMilli(), air.flow().sinceMillis());
    }

    @Test
    void aProbeThatDriftsIsNamedWithinWeeksByHowFarAndTheOthersAreNot() {
        fault = (probe, day) -> probe.equals("middle") ? 0.02 * Math.max(0, day - 20) : 0;
        CabinetAir air = run(air(), 0, 60);
        ProbeAstray astray = air.astray().get(0);
        assertEquals(new ProbeName("middle"), astray.probe());
        assertEquals(0.02 * 39.5, astray.kelvin(), 0.06);
        // 2 √(u₁² + u₂²) of ±0.2 K of drift and 1/16 K of step each, and of 0.02 K of scatter.
        double each = 0.2 * 0.2 / 3 + 0.0625 * 0.0625 / 12;
        assertEquals(
                2 * Math.sqrt(2 * each + 0.02 * 0.02), astray.allowedKelvin(), 1e-9, "GUM, 5.1.2");
        double found = Duration.between(BEGIN, Instant.ofEpochMilli(astray.sinceMillis())).toDays();
        assertEquals(20 + astray.allowedKelvin() / 0.02, found, 3);
        String words =
                new AirWords(new Wording(TemperatureUnit.CELSIUS, ZoneOffset.UTC)).evidence(astray);
        assertTrue(words.startsWith("middle reads +0.7"), words);
        assertTrue(words.contains("more than the 0.33 K"), words);
    }

    @Test
    void aDriftWithinTheDatasheetsIsNoneAndNeitherIsAShortOne() {
        fault = (probe, day) -> probe.equals("middle") ? 0.2 * day / 365 : 0;
        assertEquals(List.of(), run(air(), 0, 360).astray());
        fault = (probe, day) -> probe.equals("middle") && day > 20 && day < 25 ? 1 : 0;
        assertEquals(List.of(), run(air(), 0, 30).astray());
    }

    @Test
    void aDriftingProbeThatIsCheckedAgainIsBackInItsPlace() {
        fault = (probe, day) -> probe.equals("middle") && day > 30 ? 0.6 : 0;
        ProbeEntry first = check("middle", 0, 0, 0.02);
        assertEquals(1, run(air(first), 0, 50).astray().size());
        ProbeEntry again = check("middle", 45, -0.6, 0.02);
        assertEquals(List.of(), run(air(first, again), 0, 60).astray());
    }

    @Test
    void twoProbesOfOnePlaceDisagreeBeyondWhatBothCanBeOffForTwoHours() {
        probes = List.of("a", "b", "bottom");
        places = List.of("top", "top", "bottom");
        fault = (probe, day) -> probe.equals("a") ? 0.7 : 0;
        assertEquals(List.of(), run(air(), 0, 2).astray(), "0.7 K is within 0.82 K as bought");
        fault = (probe, day) -> probe.equals("a") ? 0.95 : 0;
        ProbeAstray astray = run(air(), 0, 2).astray().get(0);
        assertEquals(Optional.of(new ProbeName("b")), astray.other());
        assertEquals(0.82, astray.allowedKelvin(), 0.01);
        assertEquals(BEGIN.toEpochMilli(), astray.sinceMillis());
        // Compared to ±0.04 K (95 %) each, the same 0.2 K that both were silent about is one.
        fault = (probe, day) -> probe.equals("a") ? 0.2 : 0;
        assertEquals(List.of(), run(air(), 0, 2).astray());
        assertEquals(
                1, run(air(check("a", 0, 0, 0.02), check("b", 0, 0, 0.02)), 0, 2).astray().size());
        // Their offsets put them right.
        assertEquals(
                List.of(),
                run(air(check("a", 0, -0.2, 0.02), check("b", 0, 0, 0.02)), 0, 2).astray());
    }

    @Test
    void aStoppedFanIsSeenWithinTheHourThoughTheTableCameInPieces() {
        stoppedFromDay = 20;
        CabinetAir air = run(air(), 0, 20);
        assertEquals("steady", word(air));
        air.add(table(20, 21));
        assertEquals("stopped", word(air));
    }

    @Test
    void otherProbesAtTopOrBottomAreLearnedAnewAndAMissingDayIsNotOne() {
        CabinetAir air = run(air(), 0, 20);
        probes = List.of("top", "middle", "shelf 1 left");
        places = probes;
        air.add(table(20, 21));
        probes = List.of("top", "middle", "bottom", "shelf 1 left");
        places = probes;
        air.add(table(21, 22));
        assertEquals("steady", word(air));
        assertEquals(BEGIN.toEpochMilli(), air.flow().sinceMillis());
        probes = List.of("top", "middle", "lower", "shelf 1 left");
        places = List.of("top", "middle", "bottom", "shelf 1 left");
        run(air, 22, 25);
        assertEquals("learning", word(air));
        assertEquals(at(23).toEpochMilli(), air.flow().sinceMillis());
    }

    @Test
    void anExchangedProbeAndAKeepersWordBeginTheLearningAnewAndACheckDoesNot() {
        ProbeEntry exchanged =
                new ProbeEntry(
                        NORTH,
                        new ProbeName("top"),
                        at(20),
                        ProbeEntry.Kind.EXCHANGED,
                        "",
                        Optional.empty());
        assertEquals("learning", word(run(air(exchanged), 0, 30)));
        assertEquals("steady", word(run(air(check("top", 20, 0.1, 0.02)), 0, 30)));
        CabinetAir said = new CabinetAir(NORTH, ProbeRecord.EMPTY, Optional.of(at(25)));
        assertEquals("learning", word(run(said, 0, 30)));
        assertEquals(at(25).toEpochMilli(), said.flow().sinceMillis());
    }
}
