package io.evenwarm.monitor.chart;

import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.ProbeCurve.Unit;

/**
 * One probe's curve for a chart.
 *
 * @param label what stands at the curve's end
 * @param unit of the trace's values, as stored
 */
public record ProbeTrace(String label, ProbePlace place, Unit unit, Trace trace) {}
