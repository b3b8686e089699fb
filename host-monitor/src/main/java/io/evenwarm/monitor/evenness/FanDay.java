package io.evenwarm.monitor.evenness;

/**
 * What one day said of a fan: the points of the chart that shows why it was called.
 *
 * @param beginMillis of the day in UTC, milliseconds since the epoch
 * @param partingKelvin top less bottom, median of the quiet stretches
 * @param expectedKelvin what this cabinet's heat explains
 * @param sum of the CUSUM after this day, in units of its interval: called from 1 on
 */
public record FanDay(long beginMillis, double partingKelvin, double expectedKelvin, double sum) {}
