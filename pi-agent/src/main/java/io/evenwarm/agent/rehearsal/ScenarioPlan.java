package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.GuardPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.quantity.Temperature;
import java.util.ArrayList;
import java.util.List;

/** The plan that an agent would have of a scenario's cabinet. */
final class ScenarioPlan {

    private static final double ALARM_KELVIN = 1;

    /** One conversion, 0.75 s, for each probe on the bus, three rounds and some. */
    private static final double STALE_SECONDS_PER_PROBE = 2.5;

    private static final double STALE_SECONDS_LEAST = 10;

    /** The guard's own probe: at the top, where a cabinet gets hot first. */
    static final String GUARD = "guard";

    /** Another word for a probe outside. */
    static final String ROOM = "room";

    private ScenarioPlan() {}

    static CabinetPlan of(Scenario.Cabinet cabinet) {
        return of(cabinet, new CabinetName(Scenario.CABINET_NAME));
    }

    static CabinetPlan of(Scenario.Cabinet cabinet, CabinetName name) {
        double setPoint = cabinet.setPointCelsius();
        Limits limits =
                new Limits(
                        new Temperature(setPoint - ALARM_KELVIN),
                        new Temperature(Math.min(setPoint + ALARM_KELVIN, cabinet.cutOffCelsius())),
                        new Temperature(cabinet.cutOffCelsius()),
                        new Temperature(cabinet.ceilingCelsius()));
        return new CabinetPlan(
                name,
                probes(cabinet.probePositions()),
                new Temperature(setPoint),
                limits,
                cabinet.control(),
                GuardPlan.defaults(),
                cabinet.hasCutOffRelay(),
                true,
                cabinet.hasFanTachometer(),
                cabinet.hasDoorSwitch());
    }

    static List<String> probeNames(List<String> positions) {
        List<String> names = new ArrayList<>();
        for (String position : positions) {
            String name = position;
            for (int n = 2; names.contains(name); n++) {
                name = position + " " + n;
            }
            names.add(name);
        }
        return List.copyOf(names);
    }

    private static List<ProbePlan> probes(List<String> positions) {
        List<String> names = probeNames(positions);
        double stale = Math.max(STALE_SECONDS_LEAST, STALE_SECONDS_PER_PROBE * names.size());
        List<ProbePlan> probes = new ArrayList<>();
        for (int i = 0; i < names.size(); i++) {
            probes.add(
                    new ProbePlan(
                            new ProbeName(names.get(i)),
                            place(positions.get(i)),
                            positions.get(i).equals(GUARD),
                            0,
                            stale,
                            ProbePlan.Sensor.DS18B20));
        }
        return probes;
    }

    private static ProbePlace place(String position) {
        return switch (position) {
            case GUARD -> ProbePlace.TOP;
            case ROOM -> ProbePlace.AMBIENT;
            default -> ProbePlace.of(position);
        };
    }
}
