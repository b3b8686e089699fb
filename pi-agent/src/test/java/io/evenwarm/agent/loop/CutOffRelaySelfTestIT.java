package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.agent.testing.VirtualRun;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.FindingCode;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** The cut-off relay's daily test over cabinets of the catalogue's range. */
final class CutOffRelaySelfTestIT {

    private static final int CABINETS = 24;
    private static final int HOURS = 15;

    /** What one cabinet came to. */
    private record Outcome(
            boolean isFound,
            boolean isHeaterCalledDead,
            double foundHours,
            double testMinutes,
            double lowest,
            double highest) {}

    private static CabinetBuild build(Random random) {
        double litres = 60 * Math.pow(15, random.nextDouble());
        double room = 13 + random.nextDouble() * 15;
        return CabinetBuild.ofVolume(
                        litres, 0.4 + random.nextDouble(), 1.5 + 3.5 * random.nextDouble())
                .withAmbient(room, 2)
                .withStart(31.5);
    }

    private static Outcome run(CabinetBuild build, long seed, boolean isStuck) {
        VirtualRun run = new VirtualRun(Plans.threeProbes(), build, seed, List.of());
        if (isStuck) {
            run.cabinet().inject(new PlantFault.CutOffRelayStuck());
        }
        double foundHours = Double.POSITIVE_INFINITY;
        int testSeconds = 0;
        boolean isHeaterCalledDead = false;
        double lowest = 99;
        double highest = 0;
        for (int second = 0; second < HOURS * 3600; second++) {
            CabinetSnapshot snapshot = run.tick();
            boolean isTesting = second > 600 && !snapshot.cutOffRelayClosed().orElseThrow();
            testSeconds += isTesting ? 1 : 0;
            if (second > 6 * 3600) {
                double process = snapshot.processValue().orElseThrow().celsius();
                lowest = Math.min(lowest, process);
                highest = Math.max(highest, process);
            }
            isHeaterCalledDead |=
                    snapshot.findings().stream()
                            .anyMatch(f -> f.code().equals(FindingCode.HEATER_DEAD));
            if (Double.isInfinite(foundHours)
                    && snapshot.findings().stream()
                            .anyMatch(f -> f.code().equals(FindingCode.CUT_OFF_RELAY_STUCK))) {
                foundHours = second / 3600.0;
            }
        }
        return new Outcome(
                !Double.isInfinite(foundHours),
                isHeaterCalledDead,
                foundHours,
                testSeconds / 60.0,
                lowest,
                highest);
    }

    @Test
    void aStuckRelayIsFoundAndASoundOneIsNot() {
        Random random = new Random(20261125);
        int found = 0;
        int falseFindings = 0;
        int untested = 0;
        int calledDead = 0;
        List<Double> minutes = new ArrayList<>();
        double lowest = 99;
        double highest = 0;
        for (int i = 0; i < CABINETS; i++) {
            CabinetBuild build = build(random);
            Outcome sound = run(build, i, false);
            Outcome stuck = run(build, i, true);
            falseFindings += sound.isFound() ? 1 : 0;
            calledDead += stuck.isHeaterCalledDead() ? 1 : 0;
            found += stuck.isFound() ? 1 : 0;
            untested += sound.testMinutes() == 0 ? 1 : 0;
            minutes.add(sound.testMinutes());
            lowest = Math.min(lowest, sound.lowest());
            highest = Math.max(highest, Math.max(sound.highest(), stuck.highest()));
        }
        Collections.sort(minutes);
        System.out.printf(
                Locale.ROOT,
                "cut-off relay tested in %d of %d cabinets within %d h: %d of as many stuck ones"
                        + " found, %d false; a sound test takes %.1f min at the median, %.1f at"
                        + " most; air %.2f to %.2f °C%n",
                CABINETS - untested,
                CABINETS,
                HOURS,
                found,
                falseFindings,
                minutes.get(CABINETS / 2),
                minutes.get(CABINETS - 1),
                lowest,
                highest);
        assertEquals(0, falseFindings);
        assertTrue(found >= CABINETS - untested - 2, found + " found");
        assertEquals(0, calledDead, "heat through a stuck relay is no dead heater");
        assertTrue(untested <= 3, untested + " untested");
        assertTrue(highest < 32.0, "the test adds no heat, but " + highest);
    }
}
