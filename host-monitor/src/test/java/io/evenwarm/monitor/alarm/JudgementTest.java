package io.evenwarm.monitor.alarm;

import static io.evenwarm.monitor.alarm.Scene.NORTH;
import static io.evenwarm.monitor.alarm.Scene.ROOM;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.alarm.CabinetLimits.Air;
import io.evenwarm.monitor.alarm.CabinetLimits.Humidity;
import io.evenwarm.monitor.alarm.CabinetLimits.Spread;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

/** What the monitor judges by itself, at its limits. */
final class JudgementTest {

    private static final Duration MINUTE = Duration.ofMinutes(1);

    private static final TimeLeft NEWTON = new NewtonTimeLeft(NewtonTimeLeft.Assumptions.DEFAULT);

    private Scene scene = new Scene(ROOM);

    private static AlarmSettings with(Air air) {
        return new AlarmSettings(
                AlarmTimes.DEFAULT,
                new CabinetLimits(air, Spread.DEFAULT, Humidity.DEFAULT),
                Map.of());
    }

    private static Air air(double below, double above, double deadBand, Duration on, Duration off) {
        return new Air(
                OptionalDouble.of(below),
                OptionalDouble.of(above),
                OptionalDouble.of(20),
                OptionalDouble.of(20),
                deadBand,
                on,
                on,
                on,
                off);
    }

    private AlarmState warm() {
        return scene.state(NORTH, FindingCode.TOO_WARM);
    }

    private AlarmState cold() {
        return scene.state(NORTH, FindingCode.TOO_COLD);
    }

    /**
     * OPC UA Part 9 v1.05, B.1.5, strictly: limit 33.0, dead band 0.3, on-delay 60 s, off-delay 0.
     * 33.1 for 59 s is no alarm, for 60 s it is; at 32.8 it still is, at 32.7 it has returned.
     */
    @Test
    void deadBandAndDelayKeepTheirExactLimits() {
        scene = new Scene(with(air(19, 1.5, 0.3, MINUTE, Duration.ZERO)), Scene.PLENTY, ROOM);
        scene.at(NORTH);
        scene.pass(1);
        scene.at(NORTH).top = 33.0;
        scene.pass(100);
        assertEquals(AlarmState.NORMAL, warm(), "at the limit is not above it");
        scene.at(NORTH).top = 33.1;
        scene.pass(1 + 59);
        assertEquals(AlarmState.NORMAL, warm());
        scene.pass(1);
        assertEquals(AlarmState.UNACKNOWLEDGED, warm());
        scene.at(NORTH).top = 32.8;
        scene.pass(100);
        assertEquals(AlarmState.UNACKNOWLEDGED, warm());
        scene.at(NORTH).top = 32.7;
        scene.pass(1);
        assertEquals(AlarmState.RETURNED_UNACKNOWLEDGED, warm());
    }

    /**
     * OPC UA Part 9 v1.05, 5.8.22.1: set point 10, high 2, low 1: above 12 and below 9. Set point
     * 11: above 13 and below 10.
     */
    @Test
    void limitsGoWithTheSetPoint() {
        scene = new Scene(with(air(1, 2, 0, Duration.ZERO, Duration.ZERO)), Scene.PLENTY, ROOM);
        expect(10, 12, AlarmState.NORMAL, AlarmState.NORMAL);
        expect(10, 12.01, AlarmState.UNACKNOWLEDGED, AlarmState.NORMAL);
        expect(10, 9, AlarmState.RETURNED_UNACKNOWLEDGED, AlarmState.NORMAL);
        expect(10, 8.99, AlarmState.RETURNED_UNACKNOWLEDGED, AlarmState.UNACKNOWLEDGED);
        // Anew, since one that comes back at once would not be over at once.
        scene = new Scene(with(air(1, 2, 0, Duration.ZERO, Duration.ZERO)), Scene.PLENTY, ROOM);
        expect(11, 10, AlarmState.NORMAL, AlarmState.NORMAL);
        expect(11, 9.99, AlarmState.NORMAL, AlarmState.UNACKNOWLEDGED);
        expect(11, 13, AlarmState.NORMAL, AlarmState.RETURNED_UNACKNOWLEDGED);
        expect(11, 13.01, AlarmState.UNACKNOWLEDGED, AlarmState.RETURNED_UNACKNOWLEDGED);
    }

    private void expect(double setPoint, double air, AlarmState warm, AlarmState cold) {
        scene.at(NORTH).setPoint = setPoint;
        scene.at(NORTH).all(air);
        scene.pass(1);
        assertEquals(warm, warm(), "too warm at " + air + " with set point " + setPoint);
        assertEquals(cold, cold(), "too cold at " + air + " with set point " + setPoint);
    }

    @Test
    void withoutLimitsOfItsOwnACabinetIsJudgedByItsAgents() {
        scene.at(NORTH).top = 32.6;
        scene.pass(1801);
        assertEquals(AlarmState.UNACKNOWLEDGED, warm());
        assertEquals(AlarmState.NORMAL, scene.state(NORTH, AlarmCodes.FAR_TOO_WARM));
        scene.at(NORTH).top = 33.6;
        scene.pass(61);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(NORTH, AlarmCodes.FAR_TOO_WARM));
        assertEquals(
                AlarmState.SUPPRESSED_BY_DESIGN, warm(), "the second limit explains the first");
    }

    @Test
    void coldThatStaysIsToldTwiceAsItGetsWorse() {
        scene.at(NORTH).all(30.4);
        scene.pass(1801);
        assertEquals(AlarmState.UNACKNOWLEDGED, cold());
        scene.at(NORTH).all(28.4);
        scene.pass(1801);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(NORTH, AlarmCodes.FAR_TOO_COLD));
    }

    @Test
    void aCabinetThatWarmsUpIsNotTooCold() {
        for (double celsius = 22; celsius < 31.5; celsius += 0.1) {
            scene.at(NORTH).all(celsius);
            scene.pass(120);
        }
        assertEquals(List.of(), scene.annunciated());
    }

    @Test
    void aCabinetThatStopsWarmingUpIsTooCold() {
        for (double celsius = 22; celsius < 29; celsius += 0.1) {
            scene.at(NORTH).all(celsius);
            scene.pass(120);
        }
        scene.pass(3600 + 1800);
        assertEquals(AlarmState.UNACKNOWLEDGED, cold());
    }

    /**
     * A reloading of 12 min: the air is at the room's temperature, cold tubs come in, and it takes
     * hours to get warm. The eggs, by the constants, have less than an hour left.
     */
    private void reload(double kelvinPerMinute, long minutes) {
        scene = new Scene(AlarmSettings.DEFAULT, NEWTON, ROOM);
        scene.at(NORTH).all(31.5);
        scene.pass(3600);
        scene.at(NORTH).isWork = true;
        scene.at(NORTH).all(21);
        scene.pass(12 * 60);
        scene.at(NORTH).isWork = false;
        for (long minute = 0; minute < minutes; minute++) {
            scene.at(NORTH).all(Math.min(31.5, 21 + minute * kelvinPerMinute));
            scene.pass(60);
        }
    }

    @Test
    void aCabinetThatComesBackAfterAReloadingIsNotToldOf() {
        reload(0.04, 180);
        assertEquals(List.of(), scene.annunciated());
    }

    @Test
    void oneThatDoesNotComeBackAfterAReloadingIs() {
        reload(0, 20);
        assertEquals(
                List.of("egg room / north far-too-cold", "egg room / north too-cold"),
                scene.annunciated());
    }

    @Test
    void aProbeThatItsAgentSaysLiesIsNotBelieved() {
        scene.at(NORTH)
                .findings
                .put(FindingCode.PROBE_FALLEN_OUT, Optional.of(new ProbeName("bottom")));
        scene.at(NORTH).bottom = 22;
        scene.pass(7200);
        assertEquals(AlarmState.NORMAL, cold());
        assertEquals(AlarmState.NORMAL, scene.state(NORTH, AlarmCodes.UNEVEN));
    }

    @Test
    void topAndBottomThatPartAreUnevenButNotFarFromTheSetPoint() {
        scene.at(NORTH).top = 32.4;
        scene.at(NORTH).bottom = 30.6;
        scene.pass(3600);
        assertEquals(AlarmState.NORMAL, scene.state(NORTH, AlarmCodes.UNEVEN));
        scene.at(NORTH).tooWarm = 34;
        scene.at(NORTH).tooCold = 29;
        scene.at(NORTH).top = 33.1;
        scene.at(NORTH).bottom = 30.5;
        scene.pass(1801);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(NORTH, AlarmCodes.UNEVEN));
        scene = new Scene(ROOM);
        scene.at(NORTH).top = 27;
        scene.at(NORTH).middle = 26;
        scene.at(NORTH).bottom = 23;
        scene.pass(3600);
        assertEquals(AlarmState.NORMAL, scene.state(NORTH, AlarmCodes.UNEVEN));
    }

    @Test
    void twoProbesOfOnePlaceThatPartDisagree() {
        scene.at(NORTH).secondTop = 32.4;
        scene.at(NORTH).top = 30.8;
        scene.pass(600);
        assertEquals(AlarmState.NORMAL, scene.state(NORTH, FindingCode.PROBES_DISAGREE));
        scene.pass(1);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(NORTH, FindingCode.PROBES_DISAGREE));
    }

    @Test
    void airThatIsTooDryOrTooDampIsToldAfterAnHour() {
        scene.at(NORTH).humidity = 29;
        scene.pass(3601);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(NORTH, AlarmCodes.TOO_DRY));
        scene.at(NORTH).humidity = 98;
        scene.pass(3601);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(NORTH, AlarmCodes.TOO_DAMP));
        assertEquals(AlarmState.RETURNED_UNACKNOWLEDGED, scene.state(NORTH, AlarmCodes.TOO_DRY));
    }

    @Test
    void blindnessRaisesAndEndsNothing() {
        scene.at(NORTH).top = 33.6;
        scene.pass(61);
        scene.at(NORTH).all(Double.NaN);
        scene.pass(3600);
        assertEquals(AlarmState.UNACKNOWLEDGED, scene.state(NORTH, AlarmCodes.FAR_TOO_WARM));
        assertEquals(AlarmState.NORMAL, cold());
    }

    @Test
    void whatTheAgentFoundNeedsNoDelayOfOursAndOursKeepsItUp() {
        scene.at(NORTH).all(30.4);
        scene.at(NORTH).findings.put(FindingCode.TOO_COLD, Optional.empty());
        scene.pass(1);
        assertEquals(AlarmState.UNACKNOWLEDGED, cold());
        scene.at(NORTH).findings.clear();
        scene.at(NORTH).all(30.6);
        scene.pass(600);
        assertEquals(AlarmState.UNACKNOWLEDGED, cold(), "still within the dead band");
        scene.at(NORTH).all(30.7);
        scene.pass(61);
        assertEquals(AlarmState.RETURNED_UNACKNOWLEDGED, cold());
    }

    @Test
    void limitsThatMakeNoSenseAreRefusedWithWhatIsAllowed() {
        assertEquals(
                "actBelowKelvin must be more than lookBelowKelvin, 2.0 K, but was 1.0 K",
                refusal(
                        () ->
                                new Air(
                                        OptionalDouble.of(2),
                                        OptionalDouble.empty(),
                                        OptionalDouble.of(1),
                                        OptionalDouble.empty(),
                                        0.2,
                                        MINUTE,
                                        MINUTE,
                                        MINUTE,
                                        MINUTE)));
        assertEquals(
                "lookBelowKelvin must be more than 0 to 20.0 but was 0.0",
                refusal(() -> air(0, 1, 0.2, MINUTE, MINUTE)));
        assertEquals(
                "deadBandKelvin must be 0.0 to 20.0 but was NaN",
                refusal(() -> air(1, 1, Double.NaN, MINUTE, MINUTE)));
        assertEquals(
                "lookDelay must be 0 to PT24H but was PT-1M",
                refusal(() -> air(1, 1, 0, MINUTE.negated(), MINUTE)));
        assertEquals(
                "dryPercent must be less than dampPercent, 40.0 %, but was 60.0 %",
                refusal(() -> new Humidity(60, 40, 2, MINUTE, MINUTE)));
        assertEquals(
                "silence must be more than 0 and at most PT8784H but was PT0S",
                refusal(
                        () ->
                                new AlarmTimes(
                                        Duration.ZERO,
                                        MINUTE,
                                        MINUTE,
                                        MINUTE,
                                        MINUTE,
                                        MINUTE,
                                        MINUTE,
                                        MINUTE,
                                        MINUTE,
                                        MINUTE,
                                        List.of(MINUTE),
                                        MINUTE,
                                        MINUTE,
                                        MINUTE)));
    }

    private static String refusal(Executable making) {
        return String.valueOf(assertThrows(IllegalArgumentException.class, making).getMessage());
    }
}
