package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.util.Optional;

/**
 * The part of a span in which a cabinet had settled, as its figures and a later comparison need it.
 * Immutable.
 */
public final class SettledPart {

    private final TimeSpan span;
    private final Duration length;
    private final double cellMinutes;
    private final Optional<double[]> warming;
    private final Optional<double[]> duty;

    /**
     * @param length of it, without what was left out in between
     * @param warming by how much the inside is warmer than the room, K, cell by cell; empty where
     *     the room was not measured
     * @param duty share of the time that the heater was on, cell by cell
     */
    SettledPart(
            TimeSpan span,
            Duration length,
            double cellMinutes,
            Optional<double[]> warming,
            Optional<double[]> duty) {
        this.span = span;
        this.length = length;
        this.cellMinutes = cellMinutes;
        this.warming = warming;
        this.duty = duty;
    }

    public TimeSpan span() {
        return span;
    }

    /** How long it is, without what was left out in between where probes were moved. */
    public Duration length() {
        return length;
    }

    /** Length of the stretches whose means were taken, in minutes. */
    public double cellMinutes() {
        return cellMinutes;
    }

    /** Mean difference to the room, K; empty where that was not measured. */
    public Optional<Double> meanWarming() {
        return warming.map(SettledPart::mean);
    }

    /** Mean duty, 0 to 1; empty where it is not known. */
    public Optional<Double> meanDuty() {
        return duty.map(SettledPart::mean);
    }

    Optional<double[]> warming() {
        return warming;
    }

    Optional<double[]> duty() {
        return duty;
    }

    private static double mean(double[] values) {
        double sum = 0;
        for (double value : values) {
            sum += value;
        }
        return sum / values.length;
    }
}
