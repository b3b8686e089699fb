package io.evenwarm.monitor.history;

import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;

/**
 * What one probe read, summed up.
 *
 * @param unit of the values
 */
public record ProbeSummaries(
        ProbeName probe, ProbePlace place, ProbeCurve.Unit unit, Summaries summaries) {}
