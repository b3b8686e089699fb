package io.evenwarm.agent.testing;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plan.GuardPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.quantity.Temperature;
import java.util.Arrays;

/** Plans for tests: set point 31.5 °C, cold 30.5, warm 32.5, cut-off 33.5, ceiling 34.5. */
public final class Plans {

    public static final CabinetName NORTH = new CabinetName("north");
    public static final Limits LIMITS = limits(30.5, 32.5, 33.5, 34.5);
    public static final double STALE_AFTER_SECONDS = 10;

    private Plans() {}

    public static Limits limits(double tooCold, double tooWarm, double cutOff, double ceiling) {
        return new Limits(
                new Temperature(tooCold),
                new Temperature(tooWarm),
                new Temperature(cutOff),
                new Temperature(ceiling));
    }

    public static ProbePlan probe(String name, ProbePlace place) {
        return new ProbePlan(
                new ProbeName(name),
                place,
                false,
                0,
                STALE_AFTER_SECONDS,
                ProbePlan.Sensor.DS18B20);
    }

    public static ProbePlan guardProbe(String name, ProbePlace place) {
        return new ProbePlan(
                new ProbeName(name), place, true, 0, STALE_AFTER_SECONDS, ProbePlan.Sensor.DS18B20);
    }

    /** Top, middle, bottom. */
    public static CabinetPlan threeProbes() {
        return cabinet(
                probe("top", ProbePlace.TOP),
                probe("middle", ProbePlace.MIDDLE),
                probe("bottom", ProbePlace.BOTTOM));
    }

    /** The same cabinet with a door switch and a fan tachometer. */
    public static CabinetPlan withDoorAndTachometer(CabinetPlan plan) {
        return new CabinetPlan(
                plan.name(),
                plan.probes(),
                plan.setPoint(),
                plan.limits(),
                plan.control(),
                plan.guard(),
                plan.hasCutOffRelay(),
                plan.drivesFan(),
                true,
                true);
    }

    public static CabinetPlan cabinet(ProbePlan... probes) {
        return cabinet(LIMITS, probes);
    }

    public static CabinetPlan cabinet(Limits limits, ProbePlan... probes) {
        return new CabinetPlan(
                NORTH,
                Arrays.asList(probes),
                new Temperature(31.5),
                limits,
                ControlPlan.defaults(),
                GuardPlan.defaults(),
                true,
                true);
    }
}
