package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.alarm.AlarmChange;
import io.evenwarm.monitor.alarm.AlarmKey;
import io.evenwarm.monitor.alarm.AlarmState;
import io.evenwarm.monitor.alarm.AlarmWords;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.monitor.alarm.Priority;
import io.evenwarm.monitor.alarm.Subject;
import io.evenwarm.monitor.alarm.Trigger;
import io.evenwarm.monitor.history.CabinetKey;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Each change of an alarm is one plain line, and a terminal that stands still holds nothing up. */
final class AlarmLinesTest {

    private static final Instant AT = Instant.parse("2026-06-01T03:12:05Z");

    private final AlarmLines lines = new AlarmLines(ZoneOffset.UTC);

    private static AlarmChange change(
            AlarmState from, AlarmState to, Trigger trigger, String who, String evidence) {
        return new AlarmChange(
                1,
                AlarmKey.of(
                        Subject.of(
                                new CabinetKey(
                                        new AgentName("egg room"), new CabinetName("north"))),
                        FindingCode.TOO_COLD),
                Optional.empty(),
                from,
                to,
                trigger,
                new Now(AT, 0),
                who,
                trigger.words() + " by " + who,
                Priority.HIGH,
                Optional.of(Duration.ofMinutes(45)),
                0,
                AT,
                new AlarmWords(evidence, "heats", "Look at door, fuse, plug."));
    }

    @Test
    void whatAPersonMustHearStandsInCapitalsWithWhatToDoFirst() {
        lines.add(
                change(
                        AlarmState.NORMAL,
                        AlarmState.UNACKNOWLEDGED,
                        Trigger.OCCURRED,
                        "monitor",
                        "coldest air 28.0 °C\nand falling"));
        assertEquals(
                List.of(
                        "03:12:05  ALARM, high: egg room / north, too cold. coldest air 28.0 °C and"
                                + " falling. Eggs have 45 min. Do first: Look at door, fuse, plug."),
                lines.take());
        assertEquals(List.of(), lines.take());
    }

    @Test
    void whatBecameOfItSaysByWhomAndWhy() {
        lines.add(
                change(
                        AlarmState.UNACKNOWLEDGED,
                        AlarmState.ACKNOWLEDGED,
                        Trigger.ACKNOWLEDGED,
                        "Anna",
                        ""));
        assertEquals(
                List.of(
                        "03:12:05  alarm acknowledged: egg room / north, too cold. By Anna:"
                                + " acknowledged by Anna"),
                lines.take());
    }

    @Test
    void inAFloodTheOldestLinesGiveWayAndThatIsSaid() {
        for (int i = 0; i < 300; i++) {
            lines.add(
                    change(
                            AlarmState.NORMAL,
                            AlarmState.UNACKNOWLEDGED,
                            Trigger.OCCURRED,
                            "monitor",
                            "number " + i));
        }
        List<String> taken = lines.take();
        assertEquals(257, taken.size());
        assertEquals("44 alarm lines are left out here; the alarm log has them", taken.get(0));
        assertTrue(taken.get(1).contains("number 44."), taken.get(1));
    }
}
