package io.evenwarm.agent.driver.serial;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.port.Probe;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.agent.port.Sample.Unit;
import io.evenwarm.frame.FrameReader;
import io.evenwarm.frame.FrameWriter;
import io.evenwarm.message.Reading.Doubt;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.function.Predicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class SerialBoardTest {

    private static final HexFormat HEX = HexFormat.ofDelimiter(" ").withUpperCase();
    private static final String[] EXAMPLE = {"0:t:3150", "0:h:7825", "1:t:missing", "2:t:-50"};

    @TempDir Path folder;
    private final HandClock clock = new HandClock();

    /** Skipped octets and bars are a person's; the document's bytes are what is compared. */
    private static byte[] documented(String what) throws IOException {
        String text = Files.readString(Path.of("../hardware-notes/probe-board.md"));
        Matcher matcher = Pattern.compile("(?m)^" + what + " +([0-9A-F| ]+)$").matcher(text);
        assertTrue(matcher.find(), what);
        return HEX.parseHex(matcher.group(1).replace("| ", "").strip());
    }

    @Test
    void theDocumentsExampleIsWhatTheFrameWriterMakesAndTheDriverUnderstands() throws IOException {
        byte[] payload = documented("payload");
        assertArrayEquals(documented("frame"), FrameWriter.frame(payload));

        SerialBoard board = new SerialBoard("/dev/board", 115_200, clock);
        Probe first = board.probe(0, Unit.CELSIUS);
        Probe damp = board.probe(0, Unit.PERCENT_RELATIVE_HUMIDITY);
        Probe second = board.probe(1, Unit.CELSIUS);
        Probe third = board.probe(2, Unit.CELSIUS);
        Probe fourth = board.probe(3, Unit.CELSIUS);
        assertEquals(new Sample.NotYet(0), first.newest());
        long now = clock.advanceSeconds(3);
        board.take(payload);

        assertEquals(new Sample.Measured(31.5, Unit.CELSIUS, now), first.newest());
        assertEquals(
                new Sample.Measured(78.25, Unit.PERCENT_RELATIVE_HUMIDITY, now), damp.newest());
        assertEquals(
                new Sample.Failed(
                        Doubt.NOT_THERE, "/dev/board: probe 1 is missing, says the board", now),
                second.newest());
        assertEquals(new Sample.Measured(-0.5, Unit.CELSIUS, now), third.newest());
        assertEquals(
                new Sample.Failed(
                        Doubt.NOT_THERE, "/dev/board: probe 3 is not in the board's reports", now),
                fourth.newest());
    }

    @Test
    void aReportThatRepeatsItsSequenceNumberMakesNoSampleYounger() throws IOException {
        SerialBoard board = new SerialBoard("/dev/board", 115_200, clock);
        Probe probe = board.probe(0, Unit.CELSIUS);
        byte[] payload = documented("payload");
        board.take(payload);
        clock.advanceSeconds(5);
        board.take(payload);
        assertEquals(0, probe.newest().atNanos());
        payload[2]++;
        board.take(payload);
        assertEquals(clock.nanos(), probe.newest().atNanos());
    }

    @Test
    void whatIsNoReportOfThisVersionChangesNothing() throws IOException {
        SerialBoard board = new SerialBoard("/dev/board", 115_200, clock);
        Probe probe = board.probe(0, Unit.CELSIUS);
        byte[] good = documented("payload");
        for (int length = 0; length < good.length; length++) {
            board.take(java.util.Arrays.copyOf(good, length));
        }
        byte[] other = good.clone();
        other[0] = 'Q';
        board.take(other);
        byte[] later = good.clone();
        later[1] = 2;
        board.take(later);
        assertEquals(new Sample.NotYet(0), probe.newest());
    }

    @Test
    void eachOfTheBoardsWordsForAFailureHasItsDoubt() {
        SerialBoard board = new SerialBoard("/dev/board", 115_200, clock);
        Probe probe = board.probe(5, Unit.CELSIUS);
        List<Doubt> doubts = new ArrayList<>();
        for (int word = 0; word < 3; word++) {
            board.take(new byte[] {'P', 1, (byte) word, 1, 5, 1, (byte) word, (byte) 0x80});
            doubts.add(assertInstanceOf(Sample.Failed.class, probe.newest()).why());
        }
        assertEquals(List.of(Doubt.NOT_THERE, Doubt.CHECKSUM, Doubt.DRIVER), doubts);
    }

    @Test
    void addressesThatAreNoneAreRefused() {
        for (String text :
                List.of(
                        "ttyACM0@1/temp",
                        "/dev/ttyACM0/temp",
                        "/dev/a@64/temp",
                        "/dev/a@1/temp1")) {
            assertTrue(BoardAddress.parse(text).isEmpty(), text);
        }
        assertEquals(
                "/dev/serial/by-id/usb-x:1@63/humidity",
                BoardAddress.parse("/dev/serial/by-id/usb-x:1@63/humidity")
                        .orElseThrow()
                        .toString());
    }

    /** The C program and this agent's frame code were written apart, from one document. */
    @Test
    void theCProgramWritesTheDocumentsFrameAndFramesOfEveryOctetArriveWhole() throws Exception {
        PretendBoard.assumeThatItCanBeMade();
        Path program = PretendBoard.compile(folder);
        assertArrayEquals(documented("frame"), PretendBoard.oneReport(program, EXAMPLE));

        for (int start = -32_765; start < 32_767; start += 2048 + 77) {
            List<String> values = new ArrayList<>();
            List<Integer> sent = new ArrayList<>();
            for (int i = 0; i < 32; i++) {
                int value = Math.min(32_767, start + 67 * i);
                values.add(i + ":t:" + value);
                sent.add(value);
            }
            List<byte[]> payloads = new ArrayList<>();
            new FrameReader()
                    .feed(
                            PretendBoard.oneReport(program, values.toArray(String[]::new)),
                            payloads::add);
            BoardReport report = BoardReport.parse(payloads.get(0));
            for (int i = 0; i < 32; i++) {
                assertEquals(
                        sent.get(i), report.values().get(new BoardReport.Key(i, Unit.CELSIUS)));
            }
        }
    }

    private static Sample await(Probe probe, Predicate<Sample> what) throws InterruptedException {
        for (int i = 0; i < 2000 && !what.test(probe.newest()); i++) {
            TimeUnit.MILLISECONDS.sleep(5);
        }
        Sample newest = probe.newest();
        assertTrue(what.test(newest), newest::toString);
        return newest;
    }

    private static Predicate<Sample> measured(double value) {
        return sample -> sample instanceof Sample.Measured there && there.value() == value;
    }

    private static Predicate<Sample> failed(Doubt why) {
        return sample -> sample instanceof Sample.Failed there && there.why() == why;
    }

    /** Over a pseudo-terminal: plugged in late, pulled out, plugged in again as another board. */
    @Test
    void aBoardMayComeGoAndComeBackAndNoiseBetweenItsReportsHarmsNothing() throws Exception {
        PretendBoard.assumeThatItCanBeMade();
        Path program = PretendBoard.compile(folder);
        Path line = folder.resolve("board");
        try (SerialBoard board =
                new SerialBoard(
                        line.toString(), 115_200, io.evenwarm.clock.SystemClock.monotonic())) {
            Probe top = board.probe(0, Unit.CELSIUS);
            Probe bottom = board.probe(1, Unit.CELSIUS);
            board.start();
            Sample.Failed absent =
                    assertInstanceOf(Sample.Failed.class, await(top, failed(Doubt.NOT_THERE)));
            assertTrue(absent.detail().contains(line.toString()), absent.detail());

            PretendBoard first = PretendBoard.plugIn(program, line, "0:t:3150", "1:t:missing");
            Sample sample = await(top, measured(31.5));
            await(bottom, failed(Doubt.NOT_THERE));
            await(top, later -> later.atNanos() > sample.atNanos());
            first.close();
            await(top, failed(Doubt.NOT_THERE));

            PretendBoard second =
                    PretendBoard.plugIn(program, line, "garbage", "0:t:2990", "1:t:3075");
            await(top, measured(29.9));
            await(bottom, measured(30.75));
            second.close();
        }
    }
}
