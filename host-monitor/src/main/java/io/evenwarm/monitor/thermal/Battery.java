package io.evenwarm.monitor.thermal;

import java.util.OptionalDouble;
import java.util.function.IntToDoubleFunction;
import java.util.stream.IntStream;

/**
 * What a battery that feeds a cabinet's mains holds.
 *
 * @param wattHours that it gives at its outlet; above 0
 * @param heaterWatts of the heater while it is on; above 0
 * @param besideWatts all that it feeds beside, on all the time; 0 or more
 */
public record Battery(double wattHours, double heaterWatts, double besideWatts) {

    /** As long as a scenario may hold. */
    private static final double LONGEST_SECONDS = 30 * 86_400.0;

    private static final double SECONDS_PER_HOUR = 3600;
    private static final int HOUR_CELLS = 3600 / ThermalRecord.CELL_SECONDS;
    private static final int DAY_CELLS = 24 * HOUR_CELLS;

    public Battery {
        requirePositive("a battery's watt-hours", wattHours, 100_000);
        requirePositive("a heater's watts", heaterWatts, 10_000);
        if (!(besideWatts >= 0 && besideWatts <= 10_000)) {
            throw new IllegalArgumentException(
                    "the watts beside the heater's must be 0 to 10000 but were " + besideWatts);
        }
    }

    private static void requirePositive(String what, double value, double most) {
        if (!(value > 0 && value <= most)) {
            throw new IllegalArgumentException(
                    what + " must be above 0 and at most " + most + " but were " + value);
        }
    }

    /**
     * Share of the time that the heater is on while the cabinet is held as warm as in the last
     * hour: heat loss over power, at the upper end of what the fit knows, times how far air and
     * room are apart (the balance of a settled cabinet, Newton's law of cooling). Where no room is
     * given the last day's is taken, and where that was not measured its share of heat.
     *
     * @param recent a day or more up to now
     * @return 0 to 1
     */
    public static double heatShare(
            ThermalFit fit, ThermalRecord recent, OptionalDouble roomCelsius) {
        double air = mean(recent, HOUR_CELLS, recent::air);
        double room = roomCelsius.orElse(mean(recent, DAY_CELLS, recent::room));
        double balance =
                fit.lossPerPower()
                        .fold(known -> known.high() * (air - room), notKnown -> Double.NaN);
        double share = Double.isNaN(balance) ? mean(recent, DAY_CELLS, recent::duty) : balance;
        return Double.isNaN(share) ? 1 : Math.max(0, Math.min(1, share));
    }

    /**
     * How long it holds, s: at most 30 days.
     *
     * @param heatShare share of the time that the heater is on, 0 to 1
     */
    public double seconds(double heatShare) {
        double watts = heaterWatts * heatShare + besideWatts;
        return Math.min(LONGEST_SECONDS, wattHours / watts * SECONDS_PER_HOUR);
    }

    private static double mean(ThermalRecord recent, int cells, IntToDoubleFunction channel) {
        return IntStream.range(Math.max(0, recent.size() - cells), recent.size())
                .mapToDouble(channel)
                .filter(Double::isFinite)
                .average()
                .orElse(Double.NaN);
    }
}
