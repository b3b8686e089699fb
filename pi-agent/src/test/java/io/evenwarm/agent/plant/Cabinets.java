package io.evenwarm.agent.plant;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plan.GuardPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.quantity.Temperature;
import java.util.ArrayList;
import java.util.List;

/** Plans for tests of the simulated cabinet. */
final class Cabinets {

    private Cabinets() {}

    /** A cabinet with these DS18B20, each named as its place, with every output. */
    static CabinetPlan with(ProbePlace... places) {
        List<ProbePlan> probes = new ArrayList<>();
        for (ProbePlace place : places) {
            probes.add(
                    new ProbePlan(
                            new ProbeName(place.label()),
                            place,
                            false,
                            0,
                            10,
                            ProbePlan.Sensor.DS18B20));
        }
        return with(probes, true);
    }

    static CabinetPlan with(List<ProbePlan> probes, boolean hasCutOffRelay) {
        return new CabinetPlan(
                new CabinetName("test"),
                probes,
                new Temperature(31.5),
                new Limits(
                        new Temperature(30.5),
                        new Temperature(32.5),
                        new Temperature(33.5),
                        new Temperature(34.5)),
                ControlPlan.defaults(),
                GuardPlan.defaults(),
                hasCutOffRelay,
                true);
    }
}
