package io.evenwarm.message;

import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import java.util.List;
import java.util.Optional;

/**
 * All that is to be known of one cabinet after one tick. Immutable; made by the control thread,
 * read by everyone else.
 *
 * @param cabinet whose snapshot this is
 * @param tick counts the ticks of this boot from 1
 * @param moment when the tick began
 * @param probes every configured probe, in configured order
 * @param processValue what control steers by; empty when no good probe is left
 * @param setPoint the set point in force
 * @param configuredSetPoint the configuration file's; differs from the one in force after a command
 * @param limits the limits in force
 * @param duty what control asks for
 * @param heaterOn whether the gate energised the heater in this tick
 * @param cutOffRelayClosed whether the cut-off relay lets current through; empty when none is
 *     fitted
 * @param fanOn whether the fan is driven; empty when the agent does not drive one
 * @param guard what the guard allows
 * @param findings what holds now
 * @param silenced whether a person at the cabinet silenced the buzzer
 * @param doorOpen whether the door is open; empty when no door switch is fitted or it can't be read
 * @param fanTurnsPerMinute what the fan's tachometer counts; empty when none is fitted or it can't
 *     be read
 * @param plannedWorkUntilNanos monotonic time at which the planned work at the cabinet ends by
 *     itself; empty when none is under way
 * @param moisture of its air; empty without a hygrometer and anything that acts on it
 * @param control what control has to say of itself; empty when this tick failed
 */
public record CabinetSnapshot(
        CabinetName cabinet,
        long tick,
        Moment moment,
        List<ProbeReading> probes,
        Optional<Temperature> processValue,
        Temperature setPoint,
        Temperature configuredSetPoint,
        Limits limits,
        Duty duty,
        boolean heaterOn,
        Optional<Boolean> cutOffRelayClosed,
        Optional<Boolean> fanOn,
        GuardState guard,
        List<Finding> findings,
        boolean silenced,
        Optional<Boolean> doorOpen,
        Optional<Double> fanTurnsPerMinute,
        Optional<Long> plannedWorkUntilNanos,
        Optional<Moisture> moisture,
        Optional<ControlReport> control) {

    public CabinetSnapshot {
        probes = List.copyOf(probes);
        findings = List.copyOf(findings);
    }

    /** Of a cabinet without door switch and tachometer, at which nobody works. */
    public CabinetSnapshot(
            CabinetName cabinet,
            long tick,
            Moment moment,
            List<ProbeReading> probes,
            Optional<Temperature> processValue,
            Temperature setPoint,
            Temperature configuredSetPoint,
            Limits limits,
            Duty duty,
            boolean heaterOn,
            Optional<Boolean> cutOffRelayClosed,
            Optional<Boolean> fanOn,
            GuardState guard,
            List<Finding> findings,
            boolean silenced) {
        this(
                cabinet,
                tick,
                moment,
                probes,
                processValue,
                setPoint,
                configuredSetPoint,
                limits,
                duty,
                heaterOn,
                cutOffRelayClosed,
                fanOn,
                guard,
                findings,
                silenced,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty());
    }

    /** The same with other findings. */
    public CabinetSnapshot withFindings(List<Finding> others) {
        return with(others, plannedWorkUntilNanos, control);
    }

    /** The same with other planned work, and other words of control. */
    public CabinetSnapshot withWork(Optional<Long> untilNanos, Optional<ControlReport> report) {
        return with(findings, untilNanos, report);
    }

    private CabinetSnapshot with(
            List<Finding> others, Optional<Long> untilNanos, Optional<ControlReport> report) {
        return new CabinetSnapshot(
                cabinet,
                tick,
                moment,
                probes,
                processValue,
                setPoint,
                configuredSetPoint,
                limits,
                duty,
                heaterOn,
                cutOffRelayClosed,
                fanOn,
                guard,
                others,
                silenced,
                doorOpen,
                fanTurnsPerMinute,
                untilNanos,
                moisture,
                report);
    }
}
