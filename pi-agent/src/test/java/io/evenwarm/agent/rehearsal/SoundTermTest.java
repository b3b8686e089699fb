package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Parts of sound terms, with looks inside and reloadings, in which something was once found. */
@Tag("long")
final class SoundTermTest {

    private static final double DAY = 86_400;

    @ParameterizedTest(name = "seed {0}: {3}")
    @CsvSource({
        "9025, 51, 52, next to no heat needed in a room of 30 °C: no dead heater",
        "9049, 42, 43, 13 minutes of open door in a room of 29 °C: no trip when it is shut",
    })
    void nothingIsFound(long seed, double fromDay, double toDay, String what) {
        Scenario term = HealthyYears.scenario(seed);
        assertNothingIsFound(
                new Scenario(
                        term.seed(), toDay * DAY, term.cabinet(), term.faults(), term.everyday()),
                fromDay,
                what);
    }

    @ParameterizedTest(name = "seed {0}: {3}")
    @CsvSource({
        "4, 9, 10, air that something else moves proves no stuck cut-off relay",
        "139, 2, 3, cold tubs that were put in are no fan that stops",
        "150, 0, 1, more heat than in the first hours is no fan that slows",
        "427, 0, 26, probes that rest on one step each are no weak heater nor frozen",
        "445, 17, 18, a tub that an open door cooled is in warmer air before it is warm",
    })
    void nothingIsFoundInAnyWeather(long seed, double fromDay, double toDay, String what) {
        assertNothingIsFound(FirstDays.of(HealthyYears.scenario(seed), toDay * DAY), fromDay, what);
    }

    private static void assertNothingIsFound(Scenario part, double fromDay, String what) {
        List<String> found =
                Rehearsal.run(part).findings().stream()
                        .filter(finding -> finding.raisedAtSeconds() > fromDay * DAY)
                        .filter(finding -> finding.bearing() == Verdict.Bearing.UNEXPLAINED)
                        .map(Verdict.FoundFinding::shortWords)
                        .toList();
        assertEquals(List.of(), found, what);
    }
}
