package io.evenwarm.monitor.alarm;

import static io.evenwarm.monitor.alarm.Scene.NORTH;
import static io.evenwarm.monitor.alarm.Scene.ROOM;
import static io.evenwarm.monitor.alarm.Scene.SECOND;
import static io.evenwarm.monitor.alarm.Scene.SHED;
import static io.evenwarm.monitor.alarm.Scene.SOUTH;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.alarm.OperatorAction.Acknowledge;
import io.evenwarm.monitor.alarm.OperatorAction.Reset;
import io.evenwarm.monitor.alarm.OperatorAction.ReturnToService;
import io.evenwarm.monitor.alarm.OperatorAction.Shelve;
import io.evenwarm.monitor.alarm.OperatorAction.TakeOutOfService;
import io.evenwarm.monitor.alarm.OperatorAction.Unshelve;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** The whole life of single alarms. */
final class AlarmDeskTest {

    private static final AlarmKey CHATTER =
            AlarmKey.of(Subject.of(NORTH), FindingCode.RELAY_CHATTER);
    private static final AlarmKey CUT_OFF =
            AlarmKey.of(Subject.of(NORTH), FindingCode.CUT_OFF_TRIPPED);
    private static final AlarmKey ROOM_SILENT =
            AlarmKey.of(Subject.of(ROOM), AlarmCodes.AGENT_SILENT);

    private Scene scene = new Scene(ROOM);

    private void find(FindingCode code) {
        scene.at(NORTH).findings.put(code, Optional.empty());
    }

    private void end(FindingCode code) {
        scene.at(NORTH).findings.remove(code);
    }

    @Test
    void whatAnAgentFindsIsToldAtOnceWithItsEvidenceActionAndAdvice() {
        scene.at(NORTH);
        scene.pass(5);
        find(FindingCode.RELAY_CHATTER);
        AlarmChange change = scene.pass(1).get(0);
        assertEquals(CHATTER, change.key());
        assertEquals(AlarmState.NORMAL, change.from());
        assertEquals(AlarmState.UNACKNOWLEDGED, change.to());
        assertEquals(Trigger.OCCURRED, change.trigger());
        assertEquals(scene.now(), change.at());
        assertEquals("monitor", change.who());
        assertEquals(
                new AlarmWords(
                        "relay-chatter found", "relay-chatter action", "relay-chatter advice"),
                change.words());
        assertEquals(1, change.number());
    }

    @Test
    void acknowledgedAndOverItIsNormalAgain() {
        find(FindingCode.RELAY_CHATTER);
        scene.pass(1);
        AlarmChange seen = scene.act(new Acknowledge(CHATTER)).get(0);
        assertEquals("Kim", seen.who());
        assertEquals("acknowledged by Kim", seen.why());
        assertEquals(AlarmState.ACKNOWLEDGED, scene.state(CHATTER));
        end(FindingCode.RELAY_CHATTER);
        scene.pass(60);
        assertEquals(AlarmState.ACKNOWLEDGED, scene.state(CHATTER));
        scene.pass(1);
        assertEquals(AlarmState.NORMAL, scene.state(CHATTER));
        assertTrue(scene.desk.alarms().isEmpty());
    }

    @Test
    void overWithoutAcknowledgementItStillAwaitsOne() {
        find(FindingCode.RELAY_CHATTER);
        scene.pass(1);
        end(FindingCode.RELAY_CHATTER);
        scene.pass(61);
        assertEquals(AlarmState.RETURNED_UNACKNOWLEDGED, scene.state(CHATTER));
        scene.act(new Acknowledge(CHATTER));
        assertEquals(AlarmState.NORMAL, scene.state(CHATTER));
    }

    @Test
    void aLinkThatFlapsTellsNothingTwice() {
        find(FindingCode.RELAY_CHATTER);
        scene.pass(1);
        for (int times = 0; times < 20; times++) {
            end(FindingCode.RELAY_CHATTER);
            scene.pass(30);
            find(FindingCode.RELAY_CHATTER);
            scene.pass(30);
        }
        assertEquals(List.of(CHATTER.toString()), scene.annunciated());
    }

    @Test
    void whereAPersonMustLookALatchLastsUntilItIsReset() {
        find(FindingCode.CUT_OFF_TRIPPED);
        scene.pass(1);
        assertTrue(
                scene.refused(new Reset(CUT_OFF)).contains("is unacknowledged and can't be reset"));
        end(FindingCode.CUT_OFF_TRIPPED);
        scene.pass(61);
        assertEquals(AlarmState.LATCHED_UNACKNOWLEDGED, scene.state(CUT_OFF));
        scene.act(new Acknowledge(CUT_OFF));
        scene.pass(100_000);
        assertEquals(AlarmState.LATCHED_ACKNOWLEDGED, scene.state(CUT_OFF));
        scene.act(new Reset(CUT_OFF));
        assertEquals(AlarmState.NORMAL, scene.state(CUT_OFF));
    }

    @Test
    void acknowledgedAndStillThereItIsToldAgainAfterTheReAlarmTime() {
        find(FindingCode.RELAY_CHATTER);
        scene.pass(1);
        scene.act(new Acknowledge(CHATTER));
        long low = AlarmTimes.DEFAULT.reAlarmLow().toSeconds();
        assertEquals(List.of(), scene.pass(low - 1));
        AlarmChange again = scene.pass(1).get(0);
        assertEquals(Trigger.RE_ALARMED, again.trigger());
        assertEquals(AlarmState.UNACKNOWLEDGED, again.to());
        assertEquals("still there 24 h after it was acknowledged", again.why());
    }

    @Test
    void aShelfEndsByItselfAndTellsWhatIsStillThere() {
        find(FindingCode.RELAY_CHATTER);
        scene.pass(1);
        scene.act(new Shelve(CHATTER, Duration.ofHours(1), "relay is ordered"));
        assertEquals(List.of(), scene.pass(3599));
        AlarmChange back = scene.pass(1).get(0);
        assertEquals(Trigger.SHELF_ENDED, back.trigger());
        assertEquals(AlarmState.UNACKNOWLEDGED, back.to());
        assertEquals("the time for which Kim shelved it is over", back.why());
    }

    @Test
    void whatCameAndWentOnTheShelfIsNotTold() {
        scene.at(NORTH);
        scene.pass(1);
        scene.act(new Shelve(CHATTER, Duration.ofHours(1), "relay is being replaced"));
        find(FindingCode.RELAY_CHATTER);
        scene.pass(600);
        end(FindingCode.RELAY_CHATTER);
        scene.pass(600);
        scene.act(new Unshelve(CHATTER));
        assertEquals(AlarmState.NORMAL, scene.state(CHATTER));
        assertEquals(List.of(), scene.annunciated());
    }

    @Test
    void aLatchOutlastsAShelf() {
        find(FindingCode.CUT_OFF_TRIPPED);
        scene.pass(1);
        scene.act(new Shelve(CUT_OFF, Duration.ofHours(1), "being seen to"));
        end(FindingCode.CUT_OFF_TRIPPED);
        scene.pass(3600);
        assertEquals(AlarmState.LATCHED_UNACKNOWLEDGED, scene.state(CUT_OFF));
    }

    @Test
    void outOfServiceItSaysNothingUntilReturned() {
        find(FindingCode.RELAY_CHATTER);
        scene.pass(1);
        scene.act(new TakeOutOfService(CHATTER, "relay counts wrongly"));
        assertEquals(List.of(), scene.pass(200_000));
        AlarmChange back = scene.act(new ReturnToService(CHATTER)).get(0);
        assertEquals(AlarmState.UNACKNOWLEDGED, back.to());
    }

    @Test
    void whatMakesNoSenseIsRefusedWithTheReason() {
        find(FindingCode.RELAY_CHATTER);
        scene.pass(1);
        assertEquals(
                "egg room / north cut-off-tripped is normal and can't be acknowledged",
                scene.refused(new Acknowledge(CUT_OFF)));
        assertEquals(
                "an alarm can be shelved for more than 0 and at most 24 h but PT25H was asked for",
                scene.refused(new Shelve(CHATTER, Duration.ofHours(25), "on a journey")));
        assertEquals(
                "a reason is needed, in 1 to 200 characters: whoever comes next must know it",
                scene.refused(new Shelve(CHATTER, Duration.ofHours(1), " ")));
        assertEquals(
                "nothing has been heard of egg room / south",
                scene.refused(
                        new TakeOutOfService(
                                AlarmKey.of(Subject.of(SOUTH), FindingCode.TOO_COLD), "repair")));
        assertEquals(
                "egg room / north relay-chatter is unacknowledged and can't be unshelved",
                scene.refused(new Unshelve(CHATTER)));
        assertTrue(
                scene.desk.act(new Acknowledge(CHATTER), "", scene.now())
                        instanceof ActionOutcome.Refused);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(CHATTER));
    }

    @Test
    void aSilentAgentIsMissedWithinThirtySeconds() {
        scene.at(NORTH);
        scene.pass(10);
        scene.unplug(ROOM);
        long seconds = 0;
        while (scene.state(ROOM_SILENT) == AlarmState.NORMAL && seconds < 100) {
            scene.pass(1);
            seconds++;
        }
        assertEquals(28, seconds);
    }

    @Test
    void anAgentThatWasNeverHeardOfIsSilentToo() {
        scene = new Scene(ROOM, SHED);
        scene.pass(40);
        assertEquals(List.of("egg room agent-silent", "shed agent-silent"), scene.annunciated());
    }

    @Test
    void aSilentAgentExplainsItsStaleCabinets() {
        scene.at(NORTH);
        scene.at(SOUTH);
        scene.pass(10);
        scene.unplug(ROOM);
        scene.pass(60);
        assertEquals(List.of("egg room agent-silent"), scene.annunciated());
        assertEquals(AlarmState.SUPPRESSED_BY_DESIGN, scene.state(NORTH, AlarmCodes.CABINET_STALE));
        assertEquals(AlarmState.SUPPRESSED_BY_DESIGN, scene.state(SOUTH, AlarmCodes.CABINET_STALE));
    }

    @Test
    void aCabinetThatGoesSilentAloneIsTold() {
        scene.at(NORTH);
        scene.at(SOUTH);
        scene.pass(10);
        scene.at(SOUTH).isSilent = true;
        scene.pass(28);
        assertTrue(scene.annunciated().contains("egg room / south cabinet-stale"));
    }

    @Test
    void whatEachCabinetOfAnAgentTellsIsOneAlarm() {
        find(FindingCode.CLOCK_UNTRUSTED);
        scene.at(SOUTH).findings.put(FindingCode.CLOCK_UNTRUSTED, Optional.empty());
        scene.pass(20);
        assertEquals(List.of("egg room clock-untrusted"), scene.annunciated());
        end(FindingCode.CLOCK_UNTRUSTED);
        scene.pass(200);
        AlarmKey clock = AlarmKey.of(Subject.of(ROOM), FindingCode.CLOCK_UNTRUSTED);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(clock), "one cabinet still tells it");
        scene.at(SOUTH).findings.clear();
        scene.pass(28 + 61);
        assertEquals(AlarmState.RETURNED_UNACKNOWLEDGED, scene.state(clock));
    }

    @Test
    void whatOnlyOthersKnowIsToldWhileItHolds() {
        AlarmKey store = AlarmKey.of(Subject.MONITOR, AlarmCodes.STORE_FAILING);
        AlarmWords words = new AlarmWords("disk full", "keeps trying", "Make room.");
        scene.told(new Fact(store, true, words));
        assertEquals(List.of("monitor store-failing"), scene.annunciated());
        assertEquals(words, scene.changes.get(0).words());
        scene.pass(300);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(store));
        scene.told(new Fact(store, false, words));
        scene.pass(60);
        assertEquals(AlarmState.RETURNED_UNACKNOWLEDGED, scene.state(store));
    }

    @Test
    void aWallClockThatStepsBackChangesNoDelayNoShelfAndNoReAlarm() {
        scene.at(NORTH).top = 34;
        scene.pass(30);
        scene.setWall(Instant.parse("1970-01-01T00:00:00Z"));
        scene.pass(30);
        assertEquals(List.of(), scene.annunciated());
        scene.pass(1);
        assertEquals(List.of("egg room / north far-too-warm"), scene.annunciated());
        AlarmKey warm = AlarmKey.of(Subject.of(NORTH), AlarmCodes.FAR_TOO_WARM);
        scene.act(new Shelve(warm, Duration.ofSeconds(100), "being seen to"));
        scene.pass(50);
        scene.setWall(Instant.parse("2040-01-01T00:00:00Z"));
        scene.pass(49);
        assertEquals(AlarmState.SHELVED, scene.state(warm));
        scene.pass(1);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(warm));
    }

    @Test
    void delaysDoNotRunWhileNothingIsHeard() {
        scene.at(NORTH).top = 34;
        scene.pass(30);
        scene.at(NORTH).isSilent = true;
        scene.pass(600);
        scene.at(NORTH).isSilent = false;
        scene.pass(60);
        assertEquals(
                AlarmState.NORMAL,
                scene.state(NORTH, AlarmCodes.FAR_TOO_WARM),
                "two looks ten minutes apart are no ten minutes");
        scene.pass(1);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(NORTH, AlarmCodes.FAR_TOO_WARM));
    }

    @Test
    void anAlarmSaysSinceWhenItsConditionHasBeenThere() {
        scene.at(NORTH).top = 34;
        Instant began = scene.now().wall().plusSeconds(1);
        scene.pass(61);
        AlarmChange change = scene.changes.get(0);
        assertEquals(began, change.began());
        assertEquals(60 * SECOND, change.at().nanos() - change.beganNanos());
    }

    @Test
    void alarmsOfAnAgentThatIsNoLongerOursEnd() {
        find(FindingCode.RELAY_CHATTER);
        scene.pass(1);
        DeskState kept = scene.desk.state(scene.now());
        AlarmDesk other =
                AlarmDesk.restore(
                        AlarmSettings.DEFAULT, Scene.PLENTY, Set.of(SHED), kept, scene.now());
        Now now = scene.now();
        for (int second = 0; second <= 60; second++) {
            now = new Now(now.wall().plusSeconds(1), now.nanos() + SECOND);
            other.tick(now);
        }
        assertEquals(
                List.of(AlarmState.RETURNED_UNACKNOWLEDGED),
                other.alarms().stream()
                        .filter(alarm -> alarm.key().equals(CHATTER))
                        .map(AlarmStatus::state)
                        .toList());
    }
}
