package io.evenwarm.monitor.alarm;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.monitor.alarm.LifeCycle.Transition;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** docs/alarms.md says what the code does. */
final class AlarmsDocumentTest {

    private static final Path DOCUMENT = Path.of("../docs/alarms.md");

    /** The cells of the table below a header. */
    private static List<List<String>> table(String header) throws IOException {
        List<String> lines = Files.readAllLines(DOCUMENT);
        List<List<String>> rows = new ArrayList<>();
        for (int index = lines.indexOf(header) + 2;
                index < lines.size() && lines.get(index).startsWith("|");
                index++) {
            String line = lines.get(index);
            rows.add(
                    List.of(line.substring(1, line.length() - 1).split("\\|", -1)).stream()
                            .map(String::strip)
                            .toList());
        }
        return rows;
    }

    private static Set<AlarmState> states(String cell) {
        Set<AlarmState> states = new HashSet<>();
        for (String words : cell.split("; ", -1)) {
            for (AlarmState state : AlarmState.values()) {
                if (state.words().equals(words)) {
                    states.add(state);
                }
            }
        }
        assertEquals(cell.split("; ", -1).length, states.size(), cell);
        return states;
    }

    @Test
    void itsStateTableIsTheLifeCycles() throws IOException {
        Set<Transition> documented = new HashSet<>();
        for (List<String> row : table("| from | by | to |")) {
            for (Trigger trigger : Trigger.values()) {
                if (trigger.words().equals(row.get(1))) {
                    for (AlarmState from : states(row.get(0))) {
                        for (AlarmState to : states(row.get(2))) {
                            documented.add(new Transition(from, trigger, to));
                        }
                    }
                }
            }
        }
        assertEquals(LifeCycle.transitions(), documented);
    }

    @Test
    void itsListOfKindsIsTheCodes() throws IOException {
        List<List<String>> coded = new ArrayList<>();
        for (AlarmKind kind : AlarmKinds.all()) {
            coded.add(
                    List.of(
                            "`" + kind.code() + "`",
                            kind.danger().name().toLowerCase(Locale.ROOT),
                            kind.least().words(),
                            kind.isLatching() ? "yes" : "",
                            new TreeSet<>(kind.explainedBy())
                                    .stream()
                                            .map(code -> "`" + code + "`")
                                            .collect(Collectors.joining(", ")),
                            kind.isExplainedByDoor() ? "yes" : ""));
        }
        assertEquals(
                coded, table("| code | danger | least priority | latches | explained by | door |"));
    }

    @Test
    void itsDelaysAndDeadBandsAreTheDefaults() throws IOException {
        CabinetLimits limits = CabinetLimits.DEFAULT;
        List<List<String>> rows =
                table("| judged | there when | on-delay | off-delay | dead band | why so |");
        Set<String> judged = new HashSet<>();
        for (List<String> row : rows) {
            for (Judgement judgement : CabinetJudge.judgements()) {
                if (row.get(0).startsWith("`" + judgement.code() + "`")) {
                    judged.add(judgement.code().toString());
                    assertEquals(Texts.length(judgement.onDelay(limits)), row.get(2), row.get(0));
                    assertEquals(Texts.length(judgement.offDelay(limits)), row.get(3), row.get(0));
                }
            }
        }
        assertEquals(CabinetJudge.judgements().size(), judged.size());
        assertEquals(0.2, limits.air().deadBandKelvin());
        assertEquals(0.3, limits.spread().deadBandKelvin());
        assertEquals(2, limits.humidity().deadBandPercent());
        assertEquals("28 s", Texts.length(AlarmTimes.DEFAULT.silence()));
    }
}
