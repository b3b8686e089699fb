package io.evenwarm.agent.app;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.ControlReport;
import io.evenwarm.message.Finding;
import io.evenwarm.message.Message;
import io.evenwarm.message.Moisture;
import io.evenwarm.message.Moment;
import io.evenwarm.message.PreviousRun;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Quantity;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeUnit;

/** A snapshot in words, for a person at the cabinet. */
final class StatusText {

    private static final int DECIMALS = 2;
    private static final long FRESH_SECONDS = 10;

    private final TemperatureUnit unit;

    StatusText(TemperatureUnit unit) {
        this.unit = unit;
    }

    String agent(Message.Hello hello) {
        String simulated =
                hello.clockRate() == 1
                        ? ""
                        : String.format(
                                Locale.ROOT, ", simulated time at speed %.0f", hello.clockRate());
        return hello.name() + ", " + hello.program() + simulated;
    }

    /** One line, not ended. */
    static String previousRun(PreviousRun run) {
        return "last run: "
                + run.ending().words()
                + run.lastAlive().map(StatusText::lastAlive).orElse("");
    }

    private static String lastAlive(Moment moment) {
        return ", last known alive "
                + moment.wall().truncatedTo(ChronoUnit.SECONDS)
                + (moment.wallTrusted() ? "" : " by a clock that nobody had set");
    }

    /** Some lines, the last one ended. */
    String cabinet(CabinetSnapshot snapshot) {
        StringBuilder text = new StringBuilder(400);
        text.append('\n').append(snapshot.cabinet()).append(": ");
        text.append(
                snapshot.processValue()
                        .map(value -> unit.format(value, DECIMALS))
                        .orElse("no temperature"));
        text.append(", set point ").append(unit.format(snapshot.setPoint(), DECIMALS));
        if (!snapshot.setPoint().equals(snapshot.configuredSetPoint())) {
            text.append(" (configured ")
                    .append(unit.format(snapshot.configuredSetPoint(), DECIMALS))
                    .append(')');
        }
        text.append("\n  ").append(snapshot.guard().words());
        text.append(snapshot.heaterOn() ? ", heater on" : ", heater off");
        text.append(String.format(Locale.ROOT, ", duty %.0f %%", snapshot.duty().percent()));
        snapshot.cutOffRelayClosed()
                .ifPresent(
                        closed ->
                                text.append(
                                        closed
                                                ? ", cut-off relay closed"
                                                : ", cut-off relay open"));
        snapshot.fanOn().ifPresent(on -> text.append(on ? ", fan on" : ", fan off"));
        snapshot.fanTurnsPerMinute()
                .ifPresent(turns -> text.append(String.format(Locale.ROOT, " at %.0f/min", turns)));
        snapshot.doorOpen().ifPresent(open -> text.append(open ? ", door open" : ", door shut"));
        snapshot.plannedWorkUntilNanos()
                .ifPresent(end -> text.append(workWords(end, snapshot.moment().monotonicNanos())));
        text.append(snapshot.silenced() ? ", buzzer silenced" : "").append('\n');
        List<String> probes = new ArrayList<>();
        for (ProbeReading probe : snapshot.probes()) {
            probes.add(probe(probe, snapshot.moment().monotonicNanos()));
        }
        text.append("  ").append(String.join(", ", probes)).append('\n');
        snapshot.moisture().ifPresent(moisture -> text.append(moisture(moisture)));
        snapshot.control().ifPresent(control -> text.append(control(control)));
        snapshot.findings().forEach(finding -> text.append(finding(finding)));
        return text.toString();
    }

    private static String workWords(long endNanos, long nowNanos) {
        long minutes = 1 + TimeUnit.NANOSECONDS.toMinutes(Math.max(0, endNanos - nowNanos - 1));
        return ", planned work for another " + minutes + " min";
    }

    private String moisture(Moisture moisture) {
        List<String> parts = new ArrayList<>();
        moisture.humidityPercent()
                .ifPresent(
                        percent ->
                                parts.add(String.format(Locale.ROOT, "humidity %.1f %%", percent)));
        moisture.dewPoint().ifPresent(dew -> parts.add("dew point " + unit.format(dew, 1)));
        moisture.humidifierOn().ifPresent(on -> parts.add(on ? "humidifier on" : "humidifier off"));
        moisture.ventOn().ifPresent(on -> parts.add(on ? "vent open" : "vent shut"));
        return parts.isEmpty() ? "" : "  " + String.join(", ", parts) + "\n";
    }

    private static String control(ControlReport control) {
        StringBuilder text = new StringBuilder();
        control.activity().ifPresent(words -> text.append("  ").append(words).append('\n'));
        control.notes().forEach(note -> text.append("  note: ").append(note).append('\n'));
        return text.toString();
    }

    private String probe(ProbeReading probe, long nowNanos) {
        Reading reading = probe.reading();
        String words =
                reading.fold(
                        good -> value(good.value()),
                        uncertain ->
                                value(uncertain.value())
                                        + " (doubtful: "
                                        + uncertain.doubt().words()
                                        + ")",
                        bad -> bad.doubt().words());
        long ageSeconds = TimeUnit.NANOSECONDS.toSeconds(nowNanos - reading.sampledAtNanos());
        return probe.probe()
                + " "
                + words
                + (ageSeconds > FRESH_SECONDS && reading.quantity().isPresent()
                        ? " " + ageSeconds + " s ago"
                        : "");
    }

    private String value(Quantity quantity) {
        return quantity.fold(
                temperature -> unit.format(temperature, DECIMALS),
                humidity -> String.format(Locale.ROOT, "%.1f %%", humidity.percent()));
    }

    private static String finding(Finding finding) {
        return "  ! "
                + finding.code().value().replace('-', ' ')
                + finding.probe().map(probe -> ", probe " + probe).orElse("")
                + ": "
                + finding.evidence()
                + "\n    done: "
                + finding.action()
                + "\n    to do: "
                + finding.advice()
                + "\n";
    }
}
