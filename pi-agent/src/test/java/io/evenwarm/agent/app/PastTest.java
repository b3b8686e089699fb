package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.rehearsal.PastStory;
import io.evenwarm.codec.MessageCodec;
import io.evenwarm.frame.FrameReader;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Event;
import io.evenwarm.message.JournalRecord.Readings;
import io.evenwarm.message.Message;
import io.evenwarm.message.Moment;
import io.evenwarm.message.PreviousRun;
import io.evenwarm.settings.SettingsResult;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;

/** An invented past: what is in it, and that it can be told again. */
@Tag("long")
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
final class PastTest {

    private static final int DAYS = 20;
    private static final Instant UNTIL = Instant.parse("2031-05-01T12:00:00Z");
    private static final String CABINET =
            """
            [[cabinet]]
            name = "%s"
            set_point_celsius = 31.5
            [[cabinet.probe]]
            name = "top"
            position = "top"
            driver = "%s"
            [[cabinet.probe]]
            name = "middle"
            position = "middle"
            driver = "simulated"
            [[cabinet.probe]]
            name = "low"
            position = "bottom"
            driver = "simulated"
            [cabinet.heater]
            driver = "simulated"
            """;
    private static final String AGENT =
            """
            [agent]
            name = "invented room"
            state_folder = "state"
            [link.tls]
            listen = "127.0.0.1:0"
            [simulation]
            seed = 7
            """;

    /** Of two cabinets; made once, for it takes a while. */
    private Optional<byte[]> made = Optional.empty();

    private byte[] past() throws IOException {
        if (made.isEmpty()) {
            made = Optional.of(past("one", "two"));
        }
        return made.get();
    }

    private static byte[] past(String... cabinets) throws IOException {
        StringBuilder text = new StringBuilder(AGENT);
        for (String cabinet : cabinets) {
            text.append(CABINET.formatted(cabinet, "simulated"));
        }
        SettingsResult<AgentConfiguration> read =
                ConfigurationReader.parse(Path.of("agent.toml"), text.toString());
        AgentConfiguration configuration =
                read.fold(
                        accepted -> accepted.value(),
                        rejected -> {
                            throw new AssertionError(rejected.errors().toString());
                        });
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        PastStory story = new PastStory(UNTIL, ZoneOffset.UTC, DAYS, 7);
        new PastMaking(story, configuration.cabinets(), 600, out).run();
        return out.toByteArray();
    }

    private static List<Message> messages(byte[] octets) {
        MessageCodec codec = new MessageCodec();
        List<Message> messages = new ArrayList<>();
        FrameReader reader = new FrameReader();
        reader.feed(octets, payload -> messages.add(codec.decode(payload).value().orElseThrow()));
        return messages;
    }

    private static List<JournalRecord> records(List<Message> messages) {
        List<JournalRecord> records = new ArrayList<>();
        for (Message message : messages) {
            if (message instanceof Message.HistoryBatch batch) {
                assertEquals(PastMaking.JOURNAL, batch.journal());
                records.addAll(batch.records());
            }
        }
        return records;
    }

    @Test
    void itIsAWholeJournalInWhichWhatWentWrongWasFoundByTheAgentItself() throws IOException {
        List<Message> messages = messages(past());
        assertInstanceOf(Message.Goodbye.class, messages.get(messages.size() - 1));

        List<JournalRecord> records = records(messages);
        for (int i = 0; i < records.size(); i++) {
            assertEquals(i + 1, records.get(i).sequence());
        }
        assertEquals(UNTIL.minus(Duration.ofDays(DAYS)), records.get(0).moment().wall());
        long readings =
                records.stream()
                        .filter(each -> each instanceof Readings && isOf(each, "one"))
                        .count();
        // One each ten minutes, but for the five hours without mains.
        assertTrue(Math.abs(readings - (DAYS * 144 - 30)) <= 2, readings + " readings");

        TreeSet<String> found = new TreeSet<>();
        List<PreviousRun> before = new ArrayList<>();
        for (JournalRecord each : records) {
            if (each instanceof Event event) {
                event.previousRun().ifPresent(before::add);
                event.finding()
                        .ifPresent(
                                finding ->
                                        found.add(
                                                event.subject().orElseThrow()
                                                        + " "
                                                        + finding.code()));
            }
        }
        assertTrue(found.contains("one door-open"), found.toString());
        assertTrue(found.contains("one mains-returned"), found.toString());
        assertTrue(found.contains("two mains-returned"), found.toString());
        assertTrue(found.contains("two probe-drifting"), found.toString());
        assertEquals(1, before.size(), "one night without mains");
        assertEquals(PreviousRun.Ending.POWER_LOSS, before.get(0).ending());
        Moment alive = before.get(0).lastAlive().orElseThrow();
        assertEquals(
                "01:39",
                alive.wall().atZone(ZoneOffset.UTC).toLocalTime().toString().substring(0, 5));
    }

    @Test
    void oneSeedGivesOnePast() throws IOException {
        assertArrayEquals(past("one"), past("one"));
    }

    private static boolean isOf(JournalRecord record, String cabinet) {
        return record.subject().map(name -> name.value().equals(cabinet)).orElse(false);
    }

    @Test
    void trueTimeStandsBeforeWhatWasSeenLiveAndRises() throws IOException {
        Instant last = Instant.EPOCH;
        boolean isTimed = false;
        for (Message message : messages(past())) {
            if (message instanceof Message.Time time) {
                assertTrue(!time.moment().wall().isBefore(last), () -> "at " + time);
                last = time.moment().wall();
                isTimed = true;
            } else if (message instanceof Message.Live live) {
                assertTrue(isTimed);
                Instant shown = live.snapshot().moment().wall();
                // After the night without mains the agent's clock is behind until it is set.
                assertTrue(
                        shown.equals(last) || !live.snapshot().moment().wallTrusted(),
                        () -> shown + " was told at another time");
            }
        }
        assertEquals(UNTIL, last);
    }

    private static String refused(Path folder, String text, String... more) throws IOException {
        Path file = Files.writeString(folder.resolve("agent.toml"), text);
        List<String> arguments = new ArrayList<>(List.of("past", "--config", file.toString()));
        arguments.addAll(List.of(more));
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        int code =
                AgentMain.execute(
                        new PrintWriter(out),
                        new PrintWriter(err),
                        arguments.toArray(String[]::new));
        assertEquals(ExitCode.BAD_INPUT, code);
        assertEquals("", out.toString());
        return err.toString();
    }

    @Test
    void aRealCabinetGetsNoInventedPast(@TempDir Path folder) throws IOException {
        String real =
                CABINET.formatted("real", "one-wire")
                        .replace(
                                "driver = \"one-wire\"",
                                "driver = \"one-wire\"\naddress = \"28-000000000001\"");
        String words = refused(folder, AGENT + real);
        assertTrue(words.contains("real"), words);
    }

    @Test
    void tooFewDaysAndABadTimeAreNamedWithWhatIsAllowed(@TempDir Path folder) throws IOException {
        String text = AGENT + CABINET.formatted("one", "simulated");
        assertTrue(refused(folder, text, "--days", "5").contains("20 to 365 days but had 5"));
        assertTrue(
                refused(folder, text, "--until", "soon")
                        .contains("found --until soon; allowed: a time"));
        assertTrue(refused(folder, text, "--interval-seconds", "0").contains("allowed: 1 to 3600"));
    }
}
