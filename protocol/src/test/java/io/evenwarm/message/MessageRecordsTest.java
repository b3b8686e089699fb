package io.evenwarm.message;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

final class MessageRecordsTest {

    private static final Temperature WARM = Temperature.ofCelsius(31.5);
    private static final Moment MOMENT =
            new Moment(new BootId(new UUID(1, 2)), 3, Instant.EPOCH, false);
    private static final CabinetName NORTH = new CabinetName("north");

    @ParameterizedTest
    @ValueSource(strings = {"a", "north", "Brutschrank 2", "9.b_c-d", "ärgerlich", "北"})
    void namesOfLettersDigitsAndAFewMarksAreAllowed(String name) {
        assertEquals(name, new CabinetName(name).toString());
        assertEquals(name, new ProbeName(name).toString());
        assertEquals(name, new AgentName(name).toString());
    }

    @ParameterizedTest
    @ValueSource(strings = {"", " a", "-a", "../a", "a/b", "a\nb", "a\u0000", "<b>", "a'b"})
    void namesThatCouldHarmAPathOrAScreenAreRefused(String name) {
        IllegalArgumentException refusal =
                assertThrows(IllegalArgumentException.class, () -> new CabinetName(name));
        assertTrue(String.valueOf(refusal.getMessage()).startsWith("cabinet name must be 1 to 64"));
        assertThrows(IllegalArgumentException.class, () -> new ProbeName(name));
        assertThrows(IllegalArgumentException.class, () -> new AgentName(name));
        assertThrows(IllegalArgumentException.class, () -> ProbePlace.of(name));
    }

    @Test
    void aNameHasAtMost64LettersAndARefusalRepeatsNoMore() {
        assertEquals(64, new ProbeName("x".repeat(64)).value().length());
        IllegalArgumentException refusal =
                assertThrows(
                        IllegalArgumentException.class, () -> new ProbeName("x".repeat(10_000)));
        assertTrue(String.valueOf(refusal.getMessage()).length() < 300);
    }

    @Test
    void aPlaceIsWhatItsLabelSays() {
        assertEquals(ProbePlace.TOP, ProbePlace.of("top"));
        assertEquals(ProbePlace.TUB, ProbePlace.of("Tub"));
        assertEquals(ProbePlace.Kind.OTHER, ProbePlace.of("door side").kind());
        assertEquals("Door side", ProbePlace.of("Door side").label());
        assertThrows(
                IllegalArgumentException.class,
                () -> new ProbePlace(ProbePlace.Kind.TOP, "bottom"));
        assertThrows(
                IllegalArgumentException.class,
                () -> new ProbePlace(ProbePlace.Kind.OTHER, "ambient"));
        assertThrows(
                IllegalArgumentException.class, () -> new ProbePlace(ProbePlace.Kind.TOP, "Top"));
    }

    @Test
    void onlyPlacesInTheCabinetsAirAreAir() {
        for (ProbePlace.Kind kind : ProbePlace.Kind.values()) {
            boolean expected = kind != ProbePlace.Kind.TUB && kind != ProbePlace.Kind.AMBIENT;
            assertEquals(expected, kind.isAir(), kind.toString());
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "Too-Warm", "too--warm", "-warm", "warm-", "too warm", "9"})
    void findingCodesAreLowerCaseWords(String code) {
        assertThrows(IllegalArgumentException.class, () -> new FindingCode(code));
    }

    @Test
    void aFindingIsTheSameTroubleWhateverItsEvidence() {
        Optional<ProbeName> floor = Optional.of(new ProbeName("floor"));
        Finding first = new Finding(FindingCode.PROBE_LOST, floor, 1, "12 s", "a", "b");
        Finding later = new Finding(FindingCode.PROBE_LOST, floor, 9, "90 s", "c", "d");
        Finding other = new Finding(FindingCode.PROBE_LOST, Optional.empty(), 1, "12 s", "a", "b");
        Finding another = new Finding(FindingCode.TOO_COLD, floor, 1, "12 s", "a", "b");
        assertTrue(first.isSameTroubleAs(later));
        assertFalse(first.isSameTroubleAs(other));
        assertFalse(first.isSameTroubleAs(another));
    }

    @Test
    void aBadReadingHasNoValueThatCouldBeUsed() {
        Reading good = new Reading.Good(WARM, 1);
        Reading uncertain =
                new Reading.Uncertain(new RelativeHumidity(80), Reading.Doubt.TOO_FAST, 2);
        Reading bad = new Reading.Bad(Reading.Doubt.STALE, 3);
        assertEquals(Optional.of(WARM), good.quantity());
        assertEquals(Optional.of(new RelativeHumidity(80)), uncertain.quantity());
        assertEquals(Optional.empty(), bad.quantity());
        assertEquals("good", kind(good));
        assertEquals("uncertain: changed too fast", kind(uncertain));
        assertEquals("bad: too old", kind(bad));
    }

    @Test
    void everyCommandOutcomeAndRecordIsFoldedAsWhatItIs() {
        List<Command> commands =
                List.of(
                        new Command.SetSetPoint(NORTH, WARM),
                        new Command.ResetCutOff(NORTH),
                        new Command.Silence(NORTH),
                        new Command.StartPlannedWork(NORTH, 15),
                        new Command.EndPlannedWork(NORTH),
                        new Command.Tune(NORTH, Command.Tune.Action.STOP, false));
        assertEquals(
                List.of("set", "reset", "silence", "start 15", "end", "tune STOP"),
                commands.stream().map(each -> each.fold(new Named())).toList());
        assertEquals(
                "done yes", new CommandOutcome.Done("yes").fold(d -> "done " + d.words(), r -> ""));
        assertEquals(
                "no",
                new CommandOutcome.Refused("no").fold(d -> "", CommandOutcome.Refused::words));
        assertEquals(Optional.of(NORTH), readings(0.5, List.of()).subject());
        assertEquals("readings", readings(0.5, List.of()).fold(r -> "readings", e -> "event"));
    }

    private static final class Named implements Command.Cases<String> {

        @Override
        public String setSetPoint(Command.SetSetPoint command) {
            return "set";
        }

        @Override
        public String resetCutOff(Command.ResetCutOff command) {
            return "reset";
        }

        @Override
        public String silence(Command.Silence command) {
            return "silence";
        }

        @Override
        public String startPlannedWork(Command.StartPlannedWork command) {
            return "start " + command.minutes();
        }

        @Override
        public String endPlannedWork(Command.EndPlannedWork command) {
            return "end";
        }

        @Override
        public String tune(Command.Tune command) {
            return "tune " + command.action();
        }
    }

    @Test
    void listsAreCopiedOnTheWayIn() {
        List<ProbeReading> probes = new ArrayList<>();
        JournalRecord.Readings record = readings(1, probes);
        probes.add(new ProbeReading(new ProbeName("a"), ProbePlace.TOP, new Reading.Good(WARM, 1)));
        assertTrue(record.probes().isEmpty());
        assertThrows(UnsupportedOperationException.class, () -> record.probes().clear());
    }

    @Test
    void sharesRatesAndBatchesHaveLimits() {
        for (double wrong : new double[] {-0.1, 1.1, Double.NaN}) {
            assertThrows(IllegalArgumentException.class, () -> readings(wrong, List.of()));
        }
        for (double wrong : new double[] {0, -1, 100_001, Double.NaN}) {
            assertThrows(
                    IllegalArgumentException.class,
                    () -> new Message.Hello(List.of(1), Message.Hello.Side.LOCAL, "n", "p", wrong));
        }
        JournalRecord one = readings(0, List.of());
        int max = Message.HistoryBatch.MAX_RECORDS;
        assertEquals(
                max, new Message.HistoryBatch("j", Collections.nCopies(max, one)).records().size());
        assertThrows(
                IllegalArgumentException.class,
                () -> new Message.HistoryBatch("j", Collections.nCopies(max + 1, one)));
    }

    private static String kind(Reading reading) {
        return reading.fold(
                good -> "good",
                uncertain -> "uncertain: " + uncertain.doubt().words(),
                bad -> "bad: " + bad.doubt().words());
    }

    private static JournalRecord.Readings readings(
            double heaterOnFraction, List<ProbeReading> probes) {
        return new JournalRecord.Readings(
                1,
                MOMENT,
                NORTH,
                probes,
                WARM,
                new Limits(WARM, WARM, WARM, WARM),
                Duty.OFF,
                heaterOnFraction,
                GuardState.ALLOWING);
    }
}
