package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.live.AgentState;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.LiveView;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;

/** The lines as a person reads them, letter by letter. */
final class StatusLinesTest {

    private static final AgentName ROOM = new AgentName("egg room");
    private static final AgentName SHED = new AgentName("shed");

    private record Known(List<LiveCabinet> cabinets, List<AgentState> agents) implements LiveView {}

    private static Temperature celsius(double value) {
        return Temperature.ofCelsius(value);
    }

    private static ProbeReading probe(String name, Reading reading) {
        return new ProbeReading(new ProbeName(name), ProbePlace.TOP, reading);
    }

    private static CabinetSnapshot good() {
        return snapshot(
                "north",
                List.of(
                        probe("top", new Reading.Good(celsius(31.5625), 0)),
                        probe("bottom", new Reading.Good(celsius(31.375), 0))),
                Optional.of(celsius(31.47)),
                GuardState.ALLOWING,
                List.of());
    }

    private static CabinetSnapshot snapshot(
            String cabinet,
            List<ProbeReading> probes,
            Optional<Temperature> air,
            GuardState guard,
            List<Finding> findings) {
        return new CabinetSnapshot(
                new CabinetName(cabinet),
                1,
                new Moment(new BootId(new UUID(1, 1)), 0, Journal.at(3723), true),
                probes,
                air,
                celsius(31.5),
                celsius(31.5),
                Journal.LIMITS,
                Duty.ofFraction(0.234),
                true,
                Optional.empty(),
                Optional.empty(),
                guard,
                findings,
                false);
    }

    private static LiveCabinet live(
            AgentName agent, CabinetSnapshot snapshot, Liveness liveness, long ageMillis) {
        return new LiveCabinet(
                new CabinetKey(agent, snapshot.cabinet()),
                snapshot,
                liveness,
                Duration.ofMillis(ageMillis),
                1);
    }

    private static List<String> lines(
            TemperatureUnit unit, List<LiveCabinet> cabinets, AgentState... agents) {
        return new StatusLines(unit, ZoneOffset.UTC).of(new Known(cabinets, List.of(agents)));
    }

    private static AgentState connected(AgentName agent) {
        return new AgentState(agent, true, "connected");
    }

    @Test
    void aLiveCabinetIsOneLine() {
        assertEquals(
                List.of(
                        "north  01:02:03  31.47 °C, set 31.5 °C, duty 23 %, heat allowed | top 31.56"
                                + " °C, bottom 31.38 °C | 0.4 s old"),
                lines(
                        TemperatureUnit.CELSIUS,
                        List.of(live(ROOM, good(), Liveness.LIVE, 400)),
                        connected(ROOM)));
        assertEquals(
                List.of(
                        "north  01:02:03  88.65 °F, set 88.7 °F, duty 23 %, heat allowed | top 88.81"
                                + " °F, bottom 88.48 °F | 0.4 s old"),
                lines(
                        TemperatureUnit.FAHRENHEIT,
                        List.of(live(ROOM, good(), Liveness.LIVE, 400)),
                        connected(ROOM)));
    }

    @Test
    void whatIsWrongStandsInTheLine() {
        CabinetSnapshot blind =
                snapshot(
                        "south cellar",
                        List.of(
                                probe("top", new Reading.Bad(Reading.Doubt.CHECKSUM, 0)),
                                probe(
                                        "low",
                                        new Reading.Uncertain(
                                                celsius(45), Reading.Doubt.TOO_FAST, 0)),
                                probe(
                                        "damp",
                                        new Reading.Good(RelativeHumidity.ofPercent(81.6), 0))),
                        Optional.empty(),
                        GuardState.HOLDING,
                        List.of(
                                new Finding(
                                        FindingCode.BLIND,
                                        Optional.empty(),
                                        0,
                                        "no good air probe for 12 s",
                                        "heat is off",
                                        "look at the probes")));
        assertEquals(
                List.of(
                        "egg room / north         01:02:03  31.47 °C, set 31.5 °C, duty 23 %, heat"
                                + " allowed | top 31.56 °C, bottom 31.38 °C | 0.4 s old",
                        "egg room / south cellar  01:02:03  no good air probe, set 31.5 °C, duty 23"
                                + " %, heat held back | top wrong checksum, low 45.00 °C (changed too"
                                + " fast), damp 82 %rh | blind: no good air probe for 12 s | 0.4 s"
                                + " old"),
                lines(
                                TemperatureUnit.CELSIUS,
                                List.of(
                                        live(ROOM, good(), Liveness.LIVE, 400),
                                        live(ROOM, blind, Liveness.LIVE, 400)),
                                connected(ROOM),
                                new AgentState(SHED, true, "connected"))
                        .stream()
                        .filter(line -> !line.startsWith("shed"))
                        .toList());
    }

    @Test
    void anOldNumberStandsBehindTheWordThatItIsOld() {
        assertEquals(
                List.of(
                        "north  STALE: 12 s ago, at 01:02:03, it was 31.47 °C, set 31.5 °C, duty 23"
                                + " %, heat allowed | top 31.56 °C, bottom 31.38 °C"),
                lines(
                        TemperatureUnit.CELSIUS,
                        List.of(live(ROOM, good(), Liveness.STALE, 12_000)),
                        connected(ROOM)));
        assertEquals(
                List.of(
                        "egg room: lost 192.0.2.20:4770: it said nothing for 15 s; next try in 3 s",
                        "north  LOST: nothing known now; 3 min ago it was 31.47 °C"),
                lines(
                        TemperatureUnit.CELSIUS,
                        List.of(live(ROOM, good(), Liveness.LOST, 200_000)),
                        new AgentState(
                                ROOM,
                                false,
                                "lost 192.0.2.20:4770: it said nothing for 15 s; next try in 3 s")));
    }

    @Test
    void anAgentThatWasNeverHeardHasALineOfItsOwn() {
        assertEquals(
                List.of("egg room: connecting to 192.0.2.20:4770", "shed: connected"),
                lines(
                        TemperatureUnit.CELSIUS,
                        List.of(),
                        new AgentState(ROOM, false, "connecting to 192.0.2.20:4770"),
                        connected(SHED)));
    }

    @Test
    void agesAreReadable() {
        assertEquals("0.4 s", StatusLines.age(Duration.ofMillis(449)));
        assertEquals("9.9 s", StatusLines.age(Duration.ofMillis(9900)));
        assertEquals("10 s", StatusLines.age(Duration.ofMillis(10_999)));
        assertEquals("119 s", StatusLines.age(Duration.ofSeconds(119)));
        assertEquals("2 min", StatusLines.age(Duration.ofMinutes(2)));
        assertEquals("3 h", StatusLines.age(Duration.ofHours(3)));
    }
}
