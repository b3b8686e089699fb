package io.evenwarm.monitor.app;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.monitor.live.AgentState;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.LiveView;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.quantity.Quantity;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;

/** What is known now as lines for a terminal: one a cabinet, and one for each agent in trouble. */
final class StatusLines {

    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("HH:mm:ss", Locale.ROOT);

    private final TemperatureUnit unit;
    private final ZoneId zone;

    StatusLines(TemperatureUnit unit, ZoneId zone) {
        this.unit = unit;
        this.zone = zone;
    }

    List<String> of(LiveView live) {
        List<AgentState> agents = live.agents();
        List<LiveCabinet> cabinets = live.cabinets();
        List<String> lines = new ArrayList<>();
        for (AgentState agent : agents) {
            boolean hasCabinets =
                    cabinets.stream().anyMatch(c -> c.key().agent().equals(agent.agent()));
            if (!hasCabinets || !agent.connected() || !agent.words().equals("connected")) {
                lines.add(agent.agent() + ": " + agent.words());
            }
        }
        boolean isOneAgent = agents.size() == 1;
        int width = cabinets.stream().mapToInt(c -> title(c, isOneAgent).length()).max().orElse(0);
        for (LiveCabinet cabinet : cabinets) {
            String title = title(cabinet, isOneAgent);
            lines.add(title + " ".repeat(width - title.length()) + "  " + state(cabinet));
        }
        return lines;
    }

    private static String title(LiveCabinet cabinet, boolean isOneAgent) {
        String name = cabinet.key().cabinet().value();
        return isOneAgent ? name : cabinet.key().agent() + " / " + name;
    }

    /** An old number never looks alive: it stands behind the word that says how old it is. */
    private String state(LiveCabinet cabinet) {
        CabinetSnapshot snapshot = cabinet.snapshot();
        String age = age(cabinet.sinceReceived());
        String air = snapshot.processValue().map(this::exact).orElse("no good air probe");
        if (cabinet.liveness() == Liveness.LOST) {
            return "LOST: nothing known now; " + age + " ago it was " + air;
        }
        String time = TIME.format(snapshot.moment().wall().atZone(zone));
        String values =
                air
                        + ", set "
                        + unit.format(snapshot.setPoint(), 1)
                        + setPointNote(snapshot)
                        + ", duty "
                        + Math.round(snapshot.duty().percent())
                        + " %, "
                        + snapshot.guard().words()
                        + " | "
                        + snapshot.probes().stream()
                                .map(this::probe)
                                .collect(Collectors.joining(", "))
                        + findings(snapshot);
        return cabinet.liveness() == Liveness.STALE
                ? "STALE: " + age + " ago, at " + time + ", it was " + values
                : time + "  " + values + " | " + age + " old";
    }

    private String setPointNote(CabinetSnapshot snapshot) {
        return snapshot.setPoint().equals(snapshot.configuredSetPoint())
                ? ""
                : " (configured " + unit.format(snapshot.configuredSetPoint(), 1) + ")";
    }

    private String exact(Temperature temperature) {
        return unit.format(temperature, 2);
    }

    private String probe(ProbeReading probe) {
        return probe.probe()
                + " "
                + probe.reading()
                        .fold(
                                good -> value(good.value()),
                                uncertain ->
                                        value(uncertain.value())
                                                + " ("
                                                + uncertain.doubt().words()
                                                + ")",
                                bad -> bad.doubt().words());
    }

    private String value(Quantity quantity) {
        return quantity.fold(
                this::exact,
                humidity -> String.format(Locale.ROOT, "%.0f %%rh", humidity.percent()));
    }

    private static String findings(CabinetSnapshot snapshot) {
        return snapshot.findings().stream()
                .map(StatusLines::finding)
                .map(text -> " | " + text)
                .collect(Collectors.joining());
    }

    private static String finding(Finding finding) {
        return finding.code() + ": " + finding.evidence();
    }

    /** Whole seconds, minutes or hours, but tenths where they tell something. */
    static String age(Duration age) {
        long seconds = age.toSeconds();
        if (seconds < 10) {
            return String.format(Locale.ROOT, "%.1f s", age.toMillis() / 1000.0);
        }
        if (seconds < 120) {
            return seconds + " s";
        }
        return seconds < 7200 ? seconds / 60 + " min" : seconds / 3600 + " h";
    }
}
