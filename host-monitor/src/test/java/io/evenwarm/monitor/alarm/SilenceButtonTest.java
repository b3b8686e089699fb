package io.evenwarm.monitor.alarm;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.message.FindingCode;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Who silences the buzzer at a cabinet knows of what its agent finds there, and of no more. */
final class SilenceButtonTest {

    private final Scene scene = new Scene(Scene.ROOM);

    private void find(FindingCode... codes) {
        for (FindingCode code : codes) {
            scene.at(Scene.NORTH).findings.put(code, Optional.empty());
        }
    }

    private List<String> acknowledgements() {
        return scene.changes.stream()
                .filter(change -> change.trigger() == Trigger.ACKNOWLEDGED)
                .map(change -> change.key() + " by " + change.who())
                .toList();
    }

    @Test
    void aPressAcknowledgesWhatTheAgentFindsAtThatCabinetOnce() {
        find(FindingCode.HEATER_DEAD);
        scene.at(Scene.SOUTH).findings.put(FindingCode.HEATER_DEAD, Optional.empty());
        scene.pass(60);
        scene.at(Scene.NORTH).isSilenced = true;
        scene.pass(60);
        assertEquals(
                List.of("egg room / north heater-dead by silence button of egg room / north"),
                acknowledgements());
        assertEquals(AlarmState.ACKNOWLEDGED, scene.state(Scene.NORTH, FindingCode.HEATER_DEAD));
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(Scene.SOUTH, FindingCode.HEATER_DEAD));
    }

    @Test
    void aPressAnswersADrillAtThatCabinet() {
        for (var key : List.of(Scene.NORTH, Scene.SOUTH)) {
            scene.told(
                    new Fact(
                            AlarmKey.of(Subject.of(key), AlarmCodes.DRILL),
                            true,
                            new AlarmWords("drill", "", "")));
            scene.at(key);
        }
        scene.pass(2);
        scene.at(Scene.NORTH).isSilenced = true;
        scene.pass(2);
        assertEquals(AlarmState.ACKNOWLEDGED, scene.state(Scene.NORTH, AlarmCodes.DRILL));
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(Scene.SOUTH, AlarmCodes.DRILL));
    }

    @Test
    void whatTheMonitorAloneJudgesStaysOpen() {
        scene.at(Scene.NORTH).all(34);
        find(FindingCode.FAN_WEAK);
        scene.pass(120);
        scene.at(Scene.NORTH).isSilenced = true;
        scene.pass(5);
        assertEquals(AlarmState.ACKNOWLEDGED, scene.state(Scene.NORTH, FindingCode.FAN_WEAK));
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(Scene.NORTH, AlarmCodes.FAR_TOO_WARM));
    }

    /** A silence that goes on is no second press: what is still there after hours is told again. */
    @Test
    void aSilenceThatGoesOnDoesNotAcknowledgeAReAlarm() {
        find(FindingCode.HEATER_DEAD);
        scene.pass(10);
        scene.at(Scene.NORTH).isSilenced = true;
        scene.pass(10);
        scene.pass(AlarmTimes.DEFAULT.reAlarm(Priority.LOW).toSeconds() + 5);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(Scene.NORTH, FindingCode.HEATER_DEAD));
        scene.restart(AlarmSettings.DEFAULT, Scene.PLENTY, 60);
        scene.pass(10);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(Scene.NORTH, FindingCode.HEATER_DEAD));
        scene.at(Scene.NORTH).isSilenced = false;
        scene.pass(5);
        scene.at(Scene.NORTH).isSilenced = true;
        scene.pass(5);
        assertEquals(AlarmState.ACKNOWLEDGED, scene.state(Scene.NORTH, FindingCode.HEATER_DEAD));
    }

    @Test
    void whoPressedWhileNoMonitorLookedHasPressed() {
        find(FindingCode.HEATER_DEAD);
        scene.pass(10);
        scene.at(Scene.NORTH).isSilenced = true;
        scene.restart(AlarmSettings.DEFAULT, Scene.PLENTY, 600);
        scene.pass(5);
        assertEquals(AlarmState.ACKNOWLEDGED, scene.state(Scene.NORTH, FindingCode.HEATER_DEAD));
    }

    @Test
    void whatAPressedCauseExplainsIsAcknowledgedWithIt() {
        find(FindingCode.BLIND, FindingCode.ONE_PROBE_LEFT);
        scene.pass(10);
        assertEquals(
                AlarmState.SUPPRESSED_BY_DESIGN,
                scene.state(Scene.NORTH, FindingCode.ONE_PROBE_LEFT));
        scene.at(Scene.NORTH).isSilenced = true;
        scene.pass(5);
        scene.at(Scene.NORTH).findings.remove(FindingCode.BLIND);
        scene.pass(120);
        assertEquals(AlarmState.ACKNOWLEDGED, scene.state(Scene.NORTH, FindingCode.ONE_PROBE_LEFT));
    }
}
