package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.message.FindingCode;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** A bus that gave nothing for hours is back, and the air is colder than when it went. */
final class BlindForHoursTest {

    private static final double HOUR = 3600;

    /** What cold air after a gap could pass for. */
    private static final Set<FindingCode> MISTAKES =
            Set.of(
                    FindingCode.DOOR_OPEN,
                    FindingCode.FAN_STOPPED,
                    FindingCode.FAN_WEAK,
                    FindingCode.HEATER_DEAD,
                    FindingCode.HEATER_STUCK_ON,
                    FindingCode.MAINS_RETURNED);

    @Test
    void whatTheAirDidMeanwhileIsTakenForNoFault() {
        List<String> found = new ArrayList<>();
        for (long seed = 1; seed <= 12; seed++) {
            Scenario scenario =
                    new Scenario(
                            seed,
                            40 * HOUR,
                            Catalogue.cabinet(seed),
                            List.of(
                                    new Scenario.TimedFault(
                                            24 * HOUR,
                                            OptionalDouble.of(3 * HOUR),
                                            new PlantFault.BusHang())));
            for (Verdict.FoundFinding finding : Rehearsal.run(scenario).findings()) {
                if (MISTAKES.contains(finding.code()) && finding.raisedAtSeconds() > 24 * HOUR) {
                    found.add("seed " + seed + ": " + finding.shortWords());
                }
            }
        }
        assertEquals(List.of(), found);
    }
}
