package io.evenwarm.agent.plan;

import io.evenwarm.message.CabinetName;
import io.evenwarm.message.Limits;
import io.evenwarm.quantity.Temperature;
import java.util.List;

/**
 * One cabinet as configured.
 *
 * @param name its name
 * @param probes in the order of the configuration; at least one in the air
 * @param setPoint the configured set point
 * @param limits the agent's limits
 * @param control how control is tuned
 * @param guard what guard compares with
 * @param hasCutOffRelay whether a relay of its own stands in series with the heater's
 * @param drivesFan whether the agent switches the circulation fan
 * @param hasFanTachometer whether the fan's turns are counted
 * @param hasDoorSwitch whether a contact tells an open door
 * @param keeping eggs, programme, humidity
 */
public record CabinetPlan(
        CabinetName name,
        List<ProbePlan> probes,
        Temperature setPoint,
        Limits limits,
        ControlPlan control,
        GuardPlan guard,
        boolean hasCutOffRelay,
        boolean drivesFan,
        boolean hasFanTachometer,
        boolean hasDoorSwitch,
        KeepingPlan keeping) {

    public CabinetPlan {
        probes = List.copyOf(probes);
        if (probes.stream().noneMatch(probe -> probe.place().kind().isAir())) {
            throw new IllegalArgumentException("cabinet " + name + " must have a probe in its air");
        }
    }

    /** A cabinet that tells nothing beside what its probes read. */
    public CabinetPlan(
            CabinetName name,
            List<ProbePlan> probes,
            Temperature setPoint,
            Limits limits,
            ControlPlan control,
            GuardPlan guard,
            boolean hasCutOffRelay,
            boolean drivesFan) {
        this(
                name,
                probes,
                setPoint,
                limits,
                control,
                guard,
                hasCutOffRelay,
                drivesFan,
                false,
                false);
    }

    /** With eggs, one set point, and nothing done about the moisture. */
    public CabinetPlan(
            CabinetName name,
            List<ProbePlan> probes,
            Temperature setPoint,
            Limits limits,
            ControlPlan control,
            GuardPlan guard,
            boolean hasCutOffRelay,
            boolean drivesFan,
            boolean hasFanTachometer,
            boolean hasDoorSwitch) {
        this(
                name,
                probes,
                setPoint,
                limits,
                control,
                guard,
                hasCutOffRelay,
                drivesFan,
                hasFanTachometer,
                hasDoorSwitch,
                KeepingPlan.USUAL);
    }

    /** The same with another plan for control. */
    public CabinetPlan withControl(ControlPlan other) {
        return new CabinetPlan(
                name,
                probes,
                setPoint,
                limits,
                other,
                guard,
                hasCutOffRelay,
                drivesFan,
                hasFanTachometer,
                hasDoorSwitch,
                keeping);
    }

    /** The same kept otherwise. */
    public CabinetPlan withKeeping(KeepingPlan other) {
        return new CabinetPlan(
                name,
                probes,
                setPoint,
                limits,
                control,
                guard,
                hasCutOffRelay,
                drivesFan,
                hasFanTachometer,
                hasDoorSwitch,
                other);
    }
}
