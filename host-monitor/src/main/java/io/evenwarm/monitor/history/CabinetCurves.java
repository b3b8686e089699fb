package io.evenwarm.monitor.history;

import io.evenwarm.message.Limits;
import java.util.List;
import java.util.Optional;

/**
 * All curves of one cabinet over a span.
 *
 * @param probes each probe's readings; bad ones are gaps
 * @param setPointCelsius the set point in force
 * @param heaterOnFraction share of the time that the heater was on, 0 to 1
 * @param limits the newest limits of the span
 */
public record CabinetCurves(
        CabinetKey key,
        TimeSpan span,
        List<ProbeCurve> probes,
        Curve setPointCelsius,
        Curve heaterOnFraction,
        Optional<Limits> limits) {

    public CabinetCurves {
        probes = List.copyOf(probes);
    }
}
