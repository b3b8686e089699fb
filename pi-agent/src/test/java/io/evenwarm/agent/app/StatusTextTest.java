package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.Snapshots;
import io.evenwarm.codec.JsonText;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Limits;
import io.evenwarm.message.Moment;
import io.evenwarm.message.PreviousRun;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

final class StatusTextTest {

    private static final long SECOND = 1_000_000_000L;

    private static CabinetSnapshot tripped() {
        return new CabinetSnapshot(
                new CabinetName("north"),
                100,
                Snapshots.moment(100),
                List.of(
                        new ProbeReading(
                                new ProbeName("top"),
                                ProbePlace.TOP,
                                new Reading.Good(new Temperature(33.5625), 99 * SECOND)),
                        new ProbeReading(
                                new ProbeName("bottom"),
                                ProbePlace.BOTTOM,
                                new Reading.Uncertain(
                                        new Temperature(85),
                                        Reading.Doubt.POWER_ON_VALUE,
                                        70 * SECOND)),
                        new ProbeReading(
                                new ProbeName("tub"),
                                ProbePlace.TUB,
                                new Reading.Bad(Reading.Doubt.CHECKSUM, 98 * SECOND)),
                        new ProbeReading(
                                new ProbeName("damp"),
                                ProbePlace.MIDDLE,
                                new Reading.Good(new RelativeHumidity(84.25), 99 * SECOND))),
                Optional.of(new Temperature(33.5625)),
                new Temperature(31),
                new Temperature(31.5),
                new Limits(
                        new Temperature(30),
                        new Temperature(32),
                        new Temperature(33.5),
                        new Temperature(34.5)),
                Duty.OFF,
                false,
                Optional.of(false),
                Optional.of(true),
                GuardState.TRIPPED,
                List.of(
                        new Finding(
                                FindingCode.CUT_OFF_TRIPPED,
                                Optional.of(new ProbeName("top")),
                                90 * SECOND,
                                "33.56 °C, cut-off at 33.50 °C",
                                "heater off",
                                "find the cause")),
                true);
    }

    @Test
    void aTrippedCabinetIsToldInWords() {
        assertEquals(
                """

                north: 33.56 °C, set point 31.00 °C (configured 31.50 °C)
                  cut off, needs a person, heater off, duty 0 %, cut-off relay open, fan on, buzzer silenced
                  top 33.56 °C, bottom 85.00 °C (doubtful: power-on value) 30 s ago, tub wrong checksum, damp 84.3 %
                  ! cut off tripped, probe top: 33.56 °C, cut-off at 33.50 °C
                    done: heater off
                    to do: find the cause
                """,
                new StatusText(TemperatureUnit.CELSIUS).cabinet(tripped()));
    }

    @Test
    void howTheLastRunEndedIsOneLineThatSaysWhetherItsClockWasRight() {
        Moment right = Snapshots.moment(100);
        assertEquals(
                "last run: the power failed, last known alive 2026-03-01T18:01:40Z",
                StatusText.previousRun(
                        new PreviousRun(PreviousRun.Ending.POWER_LOSS, Optional.of(right))));
        Moment doubtful = new Moment(right.boot(), right.monotonicNanos(), right.wall(), false);
        assertEquals(
                "last run: the power failed, last known alive 2026-03-01T18:01:40Z by a clock that"
                        + " nobody had set",
                StatusText.previousRun(
                        new PreviousRun(PreviousRun.Ending.POWER_LOSS, Optional.of(doubtful))));
    }

    /** 33.5625 °C · 1.8 + 32 (NIST SP 811, B.8). */
    @Test
    void temperaturesCanBeInFahrenheit() {
        String text = new StatusText(TemperatureUnit.FAHRENHEIT).cabinet(tripped());

        assertTrue(text.contains("north: 92.41 °F, set point 87.80 °F"), text);
    }

    @Test
    void theObjectNamesItsUnitsAndLeavesOutWhatIsNotKnown() {
        String json = JsonText.object(StatusJson.cabinet(tripped()));

        assertTrue(
                json.startsWith(
                        "{\"name\":\"north\",\"tick\":100,\"wall\":\"2026-03-01T18:01:40Z\","
                                + "\"wallTrusted\":true,\"processCelsius\":33.5625,"
                                + "\"setPointCelsius\":31.0,\"configuredSetPointCelsius\":31.5,"),
                json);
        assertTrue(
                json.contains(
                        "{\"name\":\"tub\",\"position\":\"tub\",\"quality\":\"bad\","
                                + "\"doubt\":\"wrong checksum\",\"ageSeconds\":2.0}"),
                json);
        assertTrue(json.contains("\"relativeHumidityPercent\":84.25"), json);
        assertTrue(json.contains("\"guard\":\"tripped\",\"silenced\":true"), json);
        assertTrue(
                json.contains(
                        "\"code\":\"cut-off-tripped\",\"probe\":\"top\",\"sinceSeconds\":10.0"),
                json);
    }
}
