package io.evenwarm.monitor.alarm;

import static io.evenwarm.monitor.alarm.Scene.NORTH;
import static io.evenwarm.monitor.alarm.Scene.PLENTY;
import static io.evenwarm.monitor.alarm.Scene.ROOM;
import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.alarm.OperatorAction.Acknowledge;
import io.evenwarm.monitor.alarm.OperatorAction.Shelve;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** A restart changes nothing for people, however long it took and whatever the clocks show then. */
final class AlarmRestartTest {

    private static final AlarmKey CHATTER =
            AlarmKey.of(Subject.of(NORTH), FindingCode.RELAY_CHATTER);

    private final Scene scene = new Scene(ROOM);

    private void find(FindingCode code) {
        scene.at(NORTH).findings.put(code, Optional.empty());
    }

    private void restart(long awaySeconds) {
        scene.restart(AlarmSettings.DEFAULT, PLENTY, awaySeconds);
    }

    @Test
    void whatWasAcknowledgedStaysSoAndIsNotToldAgain() {
        find(FindingCode.RELAY_CHATTER);
        scene.pass(5);
        scene.act(new Acknowledge(CHATTER));
        restart(3600);
        assertEquals(List.of(), scene.pass(3600));
        assertEquals(AlarmState.ACKNOWLEDGED, scene.state(CHATTER));
    }

    @Test
    void theReAlarmTimeRunsOnWhileNobodyRuns() {
        find(FindingCode.RELAY_CHATTER);
        scene.pass(5);
        scene.act(new Acknowledge(CHATTER));
        restart(23 * 3600);
        assertEquals(List.of(), scene.pass(3599));
        assertEquals(Trigger.RE_ALARMED, scene.pass(1).get(0).trigger());
    }

    @Test
    void aDelayGoesOnWhereItWas() {
        scene.at(NORTH).top = 34;
        scene.pass(1 + 40);
        restart(600);
        assertEquals(List.of(), scene.pass(19));
        assertEquals(
                List.of("egg room / north far-too-warm"),
                scene.pass(1).stream().map(change -> change.key().toString()).toList());
    }

    @Test
    void aShelfEndsWhenItWouldHaveEnded() {
        find(FindingCode.RELAY_CHATTER);
        scene.pass(5);
        scene.act(new Shelve(CHATTER, Duration.ofHours(2), "relay is ordered"));
        scene.pass(1800);
        restart(3600);
        assertEquals(List.of(), scene.pass(1799));
        assertEquals(Trigger.SHELF_ENDED, scene.pass(1).get(0).trigger());
    }

    @Test
    void aWallClockThatWentBackMakesAShelfNoLongerThanWhatWasLeftOfIt() {
        find(FindingCode.RELAY_CHATTER);
        scene.pass(5);
        scene.act(new Shelve(CHATTER, Duration.ofHours(2), "relay is ordered"));
        scene.pass(1800);
        restart(-1_000_000_000);
        assertEquals(List.of(), scene.pass(5399));
        assertEquals(Trigger.SHELF_ENDED, scene.pass(1).get(0).trigger());
    }

    @Test
    void aWallClockThatJumpedACenturyOnlyEndsWhatAPersonWaitsFor() {
        find(FindingCode.RELAY_CHATTER);
        scene.pass(5);
        scene.act(new Shelve(CHATTER, Duration.ofHours(2), "relay is ordered"));
        scene.at(NORTH).top = 34;
        scene.pass(41);
        restart(
                Duration.between(scene.now().wall(), Instant.parse("2126-01-01T00:00:00Z"))
                        .toSeconds());
        assertEquals(Trigger.SHELF_ENDED, scene.pass(1).get(0).trigger());
        assertEquals(AlarmState.NORMAL, scene.state(NORTH, AlarmCodes.FAR_TOO_WARM));
    }

    @Test
    void aSilentAgentIsMissedAsSoonAsWithoutARestart() {
        scene.at(NORTH);
        scene.pass(10);
        scene.unplug(ROOM);
        scene.pass(20);
        restart(60);
        scene.pass(7);
        assertEquals(List.of(), scene.annunciated());
        scene.pass(1);
        assertEquals(List.of("egg room agent-silent"), scene.annunciated());
    }

    @Test
    void numbersOfChangesAndEventsGoOn() {
        find(FindingCode.RELAY_CHATTER);
        scene.pass(1);
        restart(60);
        find(FindingCode.LATE_TICK);
        AlarmChange change = scene.pass(1).get(0);
        assertEquals(2, change.number());
        assertEquals(Optional.of(new EventId(2)), change.event());
    }
}
