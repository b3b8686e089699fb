package io.evenwarm.monitor.alarm;

import static io.evenwarm.monitor.alarm.Scene.HUT;
import static io.evenwarm.monitor.alarm.Scene.NORTH;
import static io.evenwarm.monitor.alarm.Scene.ROOM;
import static io.evenwarm.monitor.alarm.Scene.SHED;
import static io.evenwarm.monitor.alarm.Scene.SOUTH;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.alarm.OperatorAction.Acknowledge;
import io.evenwarm.monitor.alarm.OperatorAction.AcknowledgeEvent;
import io.evenwarm.monitor.alarm.OperatorAction.ResetEvent;
import io.evenwarm.monitor.alarm.OperatorAction.Shelve;
import io.evenwarm.monitor.history.CabinetKey;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** One cause is one event, and what explains the rest is what is told. */
final class AlarmEventTest {

    private static final AlarmState SUPPRESSED = AlarmState.SUPPRESSED_BY_DESIGN;

    private Scene scene = new Scene(ROOM, SHED);

    AlarmEventTest() {
        scene.at(NORTH);
        scene.at(HUT);
    }

    private void find(CabinetKey key, FindingCode code) {
        scene.at(key).findings.put(code, Optional.empty());
    }

    private Set<EventId> events() {
        return scene.changes.stream()
                .map(AlarmChange::event)
                .flatMap(Optional::stream)
                .collect(Collectors.toSet());
    }

    @Test
    void fiveCabinetsColdByOneMainsCutAreOneEventThatListsFive() {
        List<CabinetKey> five = new ArrayList<>();
        for (int number = 1; number <= 5; number++) {
            five.add(Scene.key(ROOM, "cabinet " + number));
        }
        five.forEach(scene::at);
        scene.pass(10);
        scene.unplug(ROOM);
        scene.pass(3600);
        five.forEach(
                key -> {
                    scene.at(key).all(27);
                    find(key, FindingCode.MAINS_RETURNED);
                    find(key, FindingCode.TOO_COLD);
                });
        scene.plug(ROOM);
        scene.pass(1800);
        assertEquals(1, events().size(), () -> scene.changes.toString());
        List<String> told = new ArrayList<>(List.of("egg room agent-silent"));
        five.forEach(key -> told.add(Subject.of(key) + " mains-returned"));
        assertEquals(told, scene.annunciated());
        five.forEach(key -> assertEquals(SUPPRESSED, scene.state(key, FindingCode.TOO_COLD)));
    }

    @Test
    void aMainsCutReachesTheWholeHouse() {
        find(NORTH, FindingCode.MAINS_RETURNED);
        scene.pass(120);
        find(HUT, FindingCode.MAINS_RETURNED);
        scene.pass(1);
        assertEquals(1, events().size());
    }

    @Test
    void whatIsStillColdWhenTheExplanationEndsIsToldAsAFollowUpOfTheSameEvent() {
        find(NORTH, FindingCode.MAINS_RETURNED);
        find(NORTH, FindingCode.TOO_COLD);
        scene.pass(3600);
        assertEquals(List.of("egg room / north mains-returned"), scene.annunciated());
        scene.at(NORTH).findings.remove(FindingCode.MAINS_RETURNED);
        scene.pass(61);
        assertEquals(
                List.of("egg room / north mains-returned", "egg room / north too-cold"),
                scene.annunciated());
        assertEquals(1, events().size());
    }

    @Test
    void anExplanationThatComesLateTakesTheConsequenceOutOfView() {
        find(NORTH, FindingCode.TOO_COLD);
        scene.pass(600);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(NORTH, FindingCode.TOO_COLD));
        find(NORTH, FindingCode.HEATER_DEAD);
        List<AlarmChange> changes = scene.pass(1);
        assertEquals(SUPPRESSED, scene.state(NORTH, FindingCode.TOO_COLD));
        assertTrue(
                changes.stream()
                        .anyMatch(
                                change ->
                                        change.why()
                                                .equals(
                                                        "explained by egg room / north"
                                                                + " heater-dead")));
        assertEquals(1, events().size(), "the cause joins the event of what it explains");
    }

    @Test
    void anAcknowledgedAlarmThatWasExplainedForAWhileIsNotToldAgain() {
        find(NORTH, FindingCode.TOO_COLD);
        scene.pass(1);
        scene.act(new Acknowledge(AlarmKey.of(Subject.of(NORTH), FindingCode.TOO_COLD)));
        find(NORTH, FindingCode.HEATER_DEAD);
        scene.pass(60);
        assertEquals(SUPPRESSED, scene.state(NORTH, FindingCode.TOO_COLD));
        scene.at(NORTH).findings.remove(FindingCode.HEATER_DEAD);
        scene.pass(120);
        assertEquals(AlarmState.ACKNOWLEDGED, scene.state(NORTH, FindingCode.TOO_COLD));
        assertEquals(
                List.of("egg room / north too-cold", "egg room / north heater-dead"),
                scene.annunciated());
    }

    @Test
    void acknowledgingAnEventCountsForWhatItSuppresses() {
        find(NORTH, FindingCode.MAINS_RETURNED);
        find(NORTH, FindingCode.TOO_COLD);
        scene.pass(10);
        EventId event = events().iterator().next();
        scene.act(new AcknowledgeEvent(event));
        scene.at(NORTH).findings.remove(FindingCode.MAINS_RETURNED);
        scene.pass(120);
        assertEquals(AlarmState.ACKNOWLEDGED, scene.state(NORTH, FindingCode.TOO_COLD));
        assertEquals(
                AlarmState.LATCHED_ACKNOWLEDGED, scene.state(NORTH, FindingCode.MAINS_RETURNED));
        scene.act(new ResetEvent(event));
        assertEquals(AlarmState.NORMAL, scene.state(NORTH, FindingCode.MAINS_RETURNED));
        assertEquals(
                "no alarm of event 1 awaits acknowledgement",
                scene.refused(new AcknowledgeEvent(event)));
        assertEquals(
                "no alarm of event 1 is latched with its condition over",
                scene.refused(new ResetEvent(event)));
    }

    @Test
    void plannedWorkExplainsAnOpenDoorAndTheColdAfterIt() {
        scene.at(NORTH).isWork = true;
        scene.pass(2);
        find(NORTH, FindingCode.DOOR_OPEN);
        scene.at(NORTH).all(28);
        find(NORTH, FindingCode.TOO_COLD);
        scene.pass(1200);
        scene.at(NORTH).isWork = false;
        scene.at(NORTH).findings.remove(FindingCode.DOOR_OPEN);
        scene.pass(3600);
        assertEquals(List.of(), scene.annunciated());
        scene.pass(2);
        assertEquals(List.of("egg room / north far-too-cold"), scene.annunciated());
    }

    @Test
    void anOpenedDoorExplainsColdAirForAnHour() {
        scene.at(NORTH).doorOpen = Optional.of(true);
        scene.pass(60);
        scene.at(NORTH).doorOpen = Optional.of(false);
        find(NORTH, FindingCode.TOO_COLD);
        scene.pass(3600);
        assertEquals(List.of(), scene.annunciated());
        scene.pass(2);
        assertEquals(List.of("egg room / north too-cold"), scene.annunciated());
    }

    @Test
    void aSwitchThatAlwaysSaysOpenHidesNoCold() {
        scene.at(NORTH).doorOpen = Optional.of(true);
        find(NORTH, FindingCode.DOOR_OPEN);
        scene.pass(700);
        find(NORTH, FindingCode.TOO_COLD);
        scene.pass(10);
        assertEquals(SUPPRESSED, scene.state(NORTH, FindingCode.TOO_COLD));
        scene.act(
                new Shelve(
                        AlarmKey.of(Subject.of(NORTH), FindingCode.DOOR_OPEN),
                        Duration.ofHours(8),
                        "the switch is broken"));
        scene.pass(1);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(NORTH, FindingCode.TOO_COLD));
    }

    @Test
    void anExplanationNeverHidesEggsThatHaveLittleTimeLeft() {
        Optional<Duration> half = Optional.of(Duration.ofMinutes(30));
        scene =
                new Scene(
                        AlarmSettings.DEFAULT,
                        (snapshot, eggs) ->
                                new TimeLeft.Estimate(
                                        snapshot.processValue().orElseThrow().celsius() < 26
                                                ? half
                                                : Optional.of(Duration.ofHours(5)),
                                        Optional.empty(),
                                        "made up"),
                        ROOM);
        scene.at(NORTH).all(27);
        find(NORTH, FindingCode.MAINS_RETURNED);
        find(NORTH, FindingCode.TOO_COLD);
        scene.pass(60);
        assertEquals(SUPPRESSED, scene.state(NORTH, FindingCode.TOO_COLD));
        scene.at(NORTH).all(25);
        AlarmChange change =
                scene.pass(1).stream()
                        .filter(one -> one.key().code().equals(FindingCode.TOO_COLD))
                        .findFirst()
                        .orElseThrow();
        assertEquals(AlarmState.UNACKNOWLEDGED, change.to());
        assertEquals(Priority.HIGH, change.priority());
        assertEquals("the eggs have 30 min left, whatever explains it", change.why());
        assertEquals(1, events().size());
    }

    @Test
    void moreHurryReAlarmsWhatWasAcknowledgedAndRaisesWhatWasNot() {
        scene =
                new Scene(
                        AlarmSettings.DEFAULT,
                        (snapshot, eggs) ->
                                new TimeLeft.Estimate(
                                        Optional.of(
                                                Duration.ofMinutes(
                                                        (long)
                                                                (60
                                                                        * (snapshot.processValue()
                                                                                        .orElseThrow()
                                                                                        .celsius()
                                                                                - 20)))),
                                        Optional.empty(),
                                        "an hour a kelvin"),
                        ROOM);
        AlarmKey cold = AlarmKey.of(Subject.of(NORTH), FindingCode.TOO_COLD);
        scene.at(NORTH).all(29.5);
        find(NORTH, FindingCode.TOO_COLD);
        assertEquals(Priority.LOW, scene.pass(1).get(0).priority());
        scene.at(NORTH).all(27.5);
        AlarmChange raised = scene.pass(1).get(0);
        assertEquals(Trigger.PRIORITY_RAISED, raised.trigger());
        assertEquals(AlarmState.UNACKNOWLEDGED, raised.from());
        assertEquals(AlarmState.UNACKNOWLEDGED, raised.to());
        assertEquals(Priority.MEDIUM, raised.priority());
        scene.act(new Acknowledge(cold));
        scene.at(NORTH).all(29.5);
        assertEquals(List.of(), scene.pass(60), "it never falls within an occurrence");
        scene.at(NORTH).all(20.5);
        AlarmChange again = scene.pass(1).get(0);
        assertEquals(Trigger.RE_ALARMED, again.trigger());
        assertEquals("the eggs have 30 min left", again.why());
        assertEquals(Optional.of(Duration.ofMinutes(30)), again.timeLeft());
    }

    @Test
    void aSilentAgentGetsMorePressingAsItsEggsCoolUnseen() {
        scene =
                new Scene(
                        AlarmSettings.DEFAULT,
                        (snapshot, eggs) ->
                                new TimeLeft.Estimate(
                                        Optional.of(Duration.ofHours(3)),
                                        Optional.empty(),
                                        "three hours"),
                        ROOM);
        scene.at(NORTH);
        scene.pass(10);
        scene.unplug(ROOM);
        AlarmChange silent = scene.pass(28).get(0);
        assertEquals(Priority.MEDIUM, silent.priority());
        List<AlarmChange> later = scene.pass(7200 - 28);
        assertEquals(List.of(), later);
        AlarmChange raised = scene.pass(1).get(0);
        assertEquals(Trigger.PRIORITY_RAISED, raised.trigger());
        assertEquals(Priority.HIGH, raised.priority());
        assertEquals("the eggs have 59 min left", raised.why());
    }

    @Test
    void theSameTroubleAtOneAgentSoonAfterIsOneEventAndLaterAnother() {
        scene.at(SOUTH);
        find(NORTH, FindingCode.HEATER_DEAD);
        scene.pass(300);
        find(SOUTH, FindingCode.HEATER_DEAD);
        scene.pass(1);
        assertEquals(1, events().size());
        find(HUT, FindingCode.HEATER_DEAD);
        scene.pass(1);
        assertEquals(2, events().size(), "another agent's heater has a cause of its own");
        CabinetKey west = Scene.key(ROOM, "west");
        scene.at(west);
        scene.pass(600);
        find(west, FindingCode.HEATER_DEAD);
        scene.pass(1);
        assertEquals(3, events().size(), "a quarter of an hour later, too");
    }

    @Test
    void whatComesAgainSoonIsAFollowUpAndLaterANewEvent() {
        AlarmKey chatter = AlarmKey.of(Subject.of(NORTH), FindingCode.RELAY_CHATTER);
        for (int times = 0; times < 2; times++) {
            find(NORTH, FindingCode.RELAY_CHATTER);
            scene.pass(10);
            scene.act(new Acknowledge(chatter));
            scene.at(NORTH).findings.clear();
            scene.pass(1800);
        }
        assertEquals(1, events().size());
        scene.pass(3 * 24 * 3600);
        find(NORTH, FindingCode.RELAY_CHATTER);
        scene.pass(1);
        assertEquals(2, events().size());
    }

    /** Found for a while, gone for a while, again and again. */
    private void comeAndGo(FindingCode code, int times, int thereSeconds, int goneSeconds) {
        for (int i = 0; i < times; i++) {
            find(NORTH, code);
            scene.pass(thereSeconds);
            scene.at(NORTH).findings.remove(code);
            scene.pass(goneSeconds);
        }
    }

    @Test
    void whatComesAndGoesForADayIsOneEventAndToldThreeTimesNotTen() {
        comeAndGo(FindingCode.PROBE_FALLEN_OUT, 10, 600, 7200);
        assertEquals(1, events().size(), () -> scene.changes.toString());
        assertEquals(3, scene.annunciated().size(), () -> scene.changes.toString());
        scene.pass(24 * 3600);
        assertEquals(
                AlarmState.RETURNED_UNACKNOWLEDGED,
                scene.state(NORTH, FindingCode.PROBE_FALLEN_OUT));
    }

    @Test
    void whatHappensNowElsewhereGoesBeforeWhatTheSameAlarmWasDaysAgo() {
        scene.at(SOUTH);
        comeAndGo(FindingCode.FAN_STOPPED, 1, 600, 3600);
        scene.act(new Acknowledge(AlarmKey.of(Subject.of(NORTH), FindingCode.FAN_STOPPED)));
        scene.pass(24 * 3600);
        find(SOUTH, FindingCode.FAN_STOPPED);
        scene.pass(60);
        find(NORTH, FindingCode.FAN_STOPPED);
        scene.pass(1);
        assertEquals(2, events().size(), () -> scene.changes.toString());
        assertEquals(
                new EventId(2),
                scene.changes.get(scene.changes.size() - 1).event().orElseThrow(),
                "both fans stopped by one cause");
    }

    @Test
    void whatOnlyCountsAsThereSinceItComesAndGoesExplainsNothing() {
        comeAndGo(FindingCode.FAN_STOPPED, 4, 60, 1200);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(NORTH, FindingCode.FAN_STOPPED));
        find(NORTH, FindingCode.PROBES_DISAGREE);
        scene.pass(10);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(NORTH, FindingCode.PROBES_DISAGREE));
    }

    @Test
    void whatWasAcknowledgedAndOnlyCountsAsThereIsNotToldAgain() {
        comeAndGo(FindingCode.PROBE_FALLEN_OUT, 4, 600, 7200);
        scene.act(
                new OperatorAction.Acknowledge(
                        AlarmKey.of(Subject.of(NORTH), FindingCode.PROBE_FALLEN_OUT)));
        int before = scene.annunciated().size();
        comeAndGo(FindingCode.PROBE_FALLEN_OUT, 8, 600, 7200);
        assertEquals(before, scene.annunciated().size(), () -> scene.changes.toString());
    }

    /** One whose plug is out is found by its fan at once, and by its heater half an hour later. */
    @Test
    void aStoppedFanAndTheHeaterThatIsDeadBesideItAreOneEvent() {
        find(NORTH, FindingCode.FAN_STOPPED);
        scene.pass(1500);
        find(NORTH, FindingCode.HEATER_DEAD);
        scene.pass(1);
        assertEquals(1, events().size());
        find(HUT, FindingCode.HEATER_DEAD);
        scene.pass(1);
        assertEquals(2, events().size(), "the shed has its own trouble");
    }

    @Test
    void heatInTheTopBesideASlowFanIsToldWithTheFan() {
        find(NORTH, FindingCode.FAN_WEAK);
        scene.pass(1500);
        find(NORTH, FindingCode.TOO_WARM);
        scene.pass(1);
        assertEquals(1, events().size());
        assertEquals(
                List.of("egg room / north fan-weak", "egg room / north too-warm"),
                scene.annunciated());
    }

    @Test
    void troublesThatHaveNothingToDoWithEachOtherAreTwoEvents() {
        find(NORTH, FindingCode.RELAY_CHATTER);
        find(NORTH, FindingCode.TOO_COLD);
        scene.pass(1);
        assertEquals(2, events().size());
        assertNotEquals(scene.changes.get(0).event(), scene.changes.get(1).event());
    }

    @Test
    void anEventsAlarmsAreListedFirstOutFirst() {
        find(NORTH, FindingCode.TOO_COLD);
        scene.pass(100);
        find(NORTH, FindingCode.ROOM_TOO_COLD);
        scene.pass(100);
        find(NORTH, FindingCode.HEATER_DEAD);
        scene.pass(1);
        EventId event = events().iterator().next();
        assertEquals(
                List.of("too-cold", "room-too-cold", "heater-dead"),
                scene.desk.firstOut(event).stream()
                        .map(alarm -> alarm.key().code().toString())
                        .toList());
    }
}
