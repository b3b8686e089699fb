package io.evenwarm.monitor.view;

import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.chart.ChartSpec;
import io.evenwarm.monitor.chart.EstimateTrace;
import io.evenwarm.monitor.chart.ProbeTrace;
import io.evenwarm.monitor.chart.Trace;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Joins stored curves and the live tail into what a chart is drawn from. Pure. */
final class SpecMaker {

    /** Live snapshots further apart than this, in the monitor's seconds, are not joined. */
    private static final Duration TAIL_GAP = Duration.ofSeconds(10);

    /**
     * In a simulation that runs fast, a moment's hitch of this machine is minutes of its time: no
     * gap.
     */
    private static final Duration HITCH = Duration.ofMillis(250);

    private SpecMaker() {}

    /**
     * @param stored what history answered; empty while it has not
     * @param eggs how warm the eggs are taken to be; empty where that is not known
     * @param tail the live tail; empty for a cabinet that was not heard of since the start
     * @param clockRate how many of the agent's seconds pass in one of the monitor's
     */
    static ChartSpec spec(
            ChartSpec.Frame frame,
            TimeSpan span,
            ViewState state,
            Optional<CabinetCurves> stored,
            Optional<WindowEggs.Estimated> eggs,
            Optional<Tail> tail,
            double clockRate,
            Optional<Limits> limits,
            Optional<Instant> silentSince) {
        long tailGapMillis = Math.round(TAIL_GAP.toMillis() * Math.max(1, clockRate));
        long storedGapMillis = Math.round(HITCH.toMillis() * Math.max(1, clockRate));
        return new ChartSpec(
                frame,
                span,
                probes(
                        stored.map(CabinetCurves::probes).orElse(List.of()),
                        tail.map(Tail::probes).orElse(List.of()),
                        storedGapMillis,
                        tailGapMillis),
                eggs.map(SpecMaker::estimate).stream().toList(),
                Trace.of(
                        stored.map(CabinetCurves::setPointCelsius).orElse(Curve.empty()),
                        tail.map(Tail::setPoint).orElse(Curve.empty()),
                        storedGapMillis,
                        tailGapMillis),
                Trace.of(
                        stored.map(CabinetCurves::heaterOnFraction).orElse(Curve.empty()),
                        tail.map(Tail::heater).orElse(Curve.empty()),
                        storedGapMillis,
                        tailGapMillis),
                limits.or(() -> stored.flatMap(CabinetCurves::limits)),
                state.closeUp(),
                state.showRoom(),
                silentSince,
                state.viewport().isFollowing());
    }

    private static EstimateTrace estimate(WindowEggs.Estimated eggs) {
        return new EstimateTrace("eggs, est.", eggs.likely(), eggs.low(), eggs.high());
    }

    private static List<ProbeTrace> probes(
            List<ProbeCurve> stored,
            List<ProbeCurve> live,
            long storedGapMillis,
            long tailGapMillis) {
        Map<ProbeName, ProbeCurve> storedByName = new LinkedHashMap<>();
        stored.forEach(curve -> storedByName.put(curve.probe(), curve));
        Map<ProbeName, ProbeCurve> liveByName = new LinkedHashMap<>();
        live.forEach(curve -> liveByName.put(curve.probe(), curve));
        Map<ProbeName, ProbeCurve> all = new LinkedHashMap<>(liveByName);
        storedByName.forEach(all::putIfAbsent);
        List<ProbeTrace> traces = new ArrayList<>();
        all.forEach(
                (name, curve) -> {
                    ProbeCurve before = storedByName.get(name);
                    ProbeCurve now = liveByName.get(name);
                    traces.add(
                            new ProbeTrace(
                                    label(name, curve.place()),
                                    curve.place(),
                                    before == null ? curve.unit() : before.unit(),
                                    Trace.of(
                                            before == null ? Curve.empty() : before.curve(),
                                            now == null ? Curve.empty() : now.curve(),
                                            storedGapMillis,
                                            tailGapMillis)));
                });
        return traces;
    }

    /** The place's own word where there is one; the keeper's name for the probe otherwise. */
    static String label(ProbeName probe, ProbePlace place) {
        return switch (place.kind()) {
            case TOP, MIDDLE, BOTTOM -> place.label();
            case AMBIENT -> "room";
            case TUB, OTHER -> probe.value();
        };
    }
}
