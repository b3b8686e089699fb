package io.evenwarm.monitor.history;

/**
 * What a cabinet was set to and how it was heated, summed up.
 *
 * @param setPointCelsius in force
 * @param heaterOnFraction share of the time that the heater was on, 0 to 1
 */
public record CabinetSummaries(Summaries setPointCelsius, Summaries heaterOnFraction) {}
