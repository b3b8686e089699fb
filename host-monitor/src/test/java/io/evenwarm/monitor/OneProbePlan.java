package io.evenwarm.monitor;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plan.GuardPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.quantity.Temperature;
import java.util.List;

/** What a simulated cabinet must be told of its agent, where a test plays that itself. */
public final class OneProbePlan {

    private OneProbePlan() {}

    public static CabinetPlan plan() {
        return new CabinetPlan(
                new CabinetName("invented"),
                List.of(
                        new ProbePlan(
                                new ProbeName("top"),
                                ProbePlace.TOP,
                                false,
                                0,
                                10,
                                ProbePlan.Sensor.DS18B20)),
                new Temperature(31.5),
                new Limits(
                        new Temperature(30.5),
                        new Temperature(32.5),
                        new Temperature(33.5),
                        new Temperature(34.5)),
                ControlPlan.defaults(),
                GuardPlan.defaults(),
                false,
                false);
    }
}
