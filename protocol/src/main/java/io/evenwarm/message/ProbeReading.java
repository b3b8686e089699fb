package io.evenwarm.message;

/** One probe's newest reading in a snapshot. */
public record ProbeReading(ProbeName probe, ProbePlace place, Reading reading) {}
