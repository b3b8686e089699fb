package io.evenwarm.monitor.view;

import io.evenwarm.monitor.chart.ChartSpec;
import io.evenwarm.monitor.chart.EstimateTrace;
import io.evenwarm.monitor.chart.ProbeTrace;
import io.evenwarm.monitor.chart.Trace;
import io.evenwarm.monitor.history.ProbeCurve.Unit;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** What the curves say at one moment, in words. Pure. */
final class Readout {

    private static final DateTimeFormatter MOMENT =
            DateTimeFormatter.ofPattern("EEE d MMM HH:mm:ss", Locale.ENGLISH);

    private Readout() {}

    /** The time first, then one line a curve; a curve that was not known then says so. */
    static List<String> lines(ChartSpec spec, Instant moment) {
        TemperatureUnit unit = spec.frame().unit();
        ZoneId zone = spec.frame().zone();
        long at = moment.toEpochMilli();
        List<String> lines = new ArrayList<>();
        lines.add(MOMENT.format(moment.atZone(zone)));
        for (ProbeTrace probe : spec.probes()) {
            double value = probe.trace().valueAt(at);
            lines.add(probe.label() + "  " + value(value, probe.unit(), unit));
        }
        for (EstimateTrace estimate : spec.estimates()) {
            lines.add(estimate.label() + "  " + value(estimate, at, unit));
        }
        double setPoint = spec.setPoint().valueAt(at);
        lines.add("set  " + value(setPoint, Unit.CELSIUS, unit));
        return lines;
    }

    private static String value(EstimateTrace estimate, long at, TemperatureUnit unit) {
        double value = Trace.of(estimate.likely()).valueAt(at);
        if (Double.isNaN(value)) {
            return "not known";
        }
        return String.format(
                Locale.ROOT,
                "%.1f %s (%.1f to %.1f)",
                unit.fromCelsius(value),
                unit.symbol(),
                unit.fromCelsius(Trace.of(estimate.low()).valueAt(at)),
                unit.fromCelsius(Trace.of(estimate.high()).valueAt(at)));
    }

    private static String value(double value, Unit kind, TemperatureUnit unit) {
        if (Double.isNaN(value)) {
            return "not known";
        }
        return kind == Unit.CELSIUS
                ? String.format(Locale.ROOT, "%.2f %s", unit.fromCelsius(value), unit.symbol())
                : String.format(Locale.ROOT, "%.0f %%", value);
    }
}
