package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Temperature;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * What no rule can tell of a frozen probe, computed from the catalogue's own runs without their
 * fault. {@code docs/findings.md} tells these numbers.
 *
 * <p>Until a sound probe first says something else than at the moment of the fault, it and a frozen
 * one say the same, so control does the same and all other probes say the same: the two runs are
 * one, bit for bit, and no rule can tell them apart.
 */
@Tag("long")
final class FrozenLimitsTest {

    private static final double HOUR = 3600;
    private static final double DAY = 86_400;

    /** What one probe says in a run, second by second. */
    private static List<OptionalDouble> says(Scenario scenario, ProbeName probe) {
        List<OptionalDouble> said = new ArrayList<>();
        try (RunningScenario running =
                new RunningScenario(scenario, new CabinetName(Scenario.CABINET_NAME))) {
            for (int i = 0; i < scenario.durationSeconds(); i++) {
                said.add(says(running, probe));
            }
        }
        return said;
    }

    /** What it says a second later. */
    private static OptionalDouble says(RunningScenario running, ProbeName probe) {
        return running.second()
                .map(snapshot -> celsius(snapshot, probe))
                .orElse(OptionalDouble.empty());
    }

    private static OptionalDouble celsius(CabinetSnapshot snapshot, ProbeName probe) {
        return snapshot.probes().stream()
                .filter(reading -> reading.probe().equals(probe))
                .map(ProbeReading::reading)
                .filter(Reading.Good.class::isInstance)
                .map(good -> (Temperature) ((Reading.Good) good).value())
                .mapToDouble(Temperature::celsius)
                .findFirst();
    }

    private static Scenario drawn(long seed) {
        return Catalogue.scenario(FaultKind.PROBE_FROZEN, seed);
    }

    private static Scenario sound(long seed, double seconds) {
        return new Scenario(
                seed, seconds, drawn(seed).cabinet(), List.of(), Catalogue.openings(seed, seconds));
    }

    /** How long the sound probe goes on saying what it said at the moment of the fault, s. */
    private static double alikeSeconds(long seed) {
        Scenario drawn = drawn(seed);
        int at = (int) drawn.faults().get(0).atSeconds();
        Scenario sound =
                new Scenario(
                        seed,
                        drawn.durationSeconds(),
                        drawn.cabinet(),
                        List.of(),
                        drawn.everyday());
        ProbeName probe = drawn.faults().get(0).probe().orElseThrow();
        try (RunningScenario running =
                new RunningScenario(sound, new CabinetName(Scenario.CABINET_NAME))) {
            for (int i = 0; i < at; i++) {
                running.second();
            }
            OptionalDouble first = says(running, probe);
            int second = at + 1;
            while (second < sound.durationSeconds() && says(running, probe).equals(first)) {
                second++;
            }
            return second - at;
        }
    }

    /** Times for which a sound probe says the same without a break, longer than so many seconds. */
    private static List<Double> rests(List<OptionalDouble> said, double longerSeconds) {
        List<Double> rests = new ArrayList<>();
        int since = 0;
        for (int i = 1; i <= said.size(); i++) {
            if (i == said.size() || !said.get(i).equals(said.get(since))) {
                if (i - since > longerSeconds) {
                    rests.add((double) (i - since));
                }
                since = i;
            }
        }
        return rests;
    }

    @Test
    void inOneOfTheFirstHundredAFrozenProbeIsTheSameAsASoundOneForHours() {
        List<Long> anHour =
                LongStream.rangeClosed(1, 100)
                        .parallel()
                        .filter(seed -> alikeSeconds(seed) > HOUR)
                        .boxed()
                        .toList();
        for (long seed : anHour) {
            System.out.printf(
                    Locale.ROOT,
                    "probe-frozen %d: the same for %.0f min%n",
                    seed,
                    alikeSeconds(seed) / 60);
        }
        assertEquals(List.of(92L), anHour);
    }

    /**
     * There, heat never comes and the room never moves. A rule that finds such a probe within four
     * hours calls one frozen that is sound as often as it rests for longer.
     */
    @Test
    void soundProbesOfACabinetThatIsNeverHeatedRestForLongerThanAFrozenOneMayTake() {
        long seed = 92;
        double days = 40;
        Scenario sound = sound(seed, days * DAY);
        List<Double> bottom = rests(says(sound, new ProbeName("bottom")), 4 * HOUR);
        List<Double> middle = rests(says(sound, new ProbeName("middle")), 4 * HOUR);
        double longest = middle.stream().mapToDouble(Double::doubleValue).max().orElseThrow();
        System.out.printf(
                Locale.ROOT,
                "sound cabinet %d, %.0f days: the bottom one rested %d times for over 4 h, the"
                        + " middle one %d times, %.1f h at most%n",
                seed,
                days,
                bottom.size(),
                middle.size(),
                longest / HOUR);
        assertTrue(bottom.size() >= 5, bottom.size() + " rests of over 4 h at the bottom");
        assertTrue(middle.size() >= 20, middle.size() + " in the middle");
        assertTrue(longest >= 12 * HOUR, longest / HOUR + " h");
    }
}
