package io.evenwarm.codec;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Message;
import io.evenwarm.message.Message.HistoryBatch;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URISyntaxException;
import java.net.URL;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/**
 * Encoded messages of each version, kept for ever in {@code golden/vN}. A later version must still
 * read them; the version of today must write exactly those of its own folder. Journals and
 * histories out there hold such octets.
 */
final class GoldenMessagesTest {

    private final MessageCodec codec = new MessageCodec();

    @Test
    void todaysEncodingIsThatOfItsVersion() throws IOException, URISyntaxException {
        Map<String, String> golden = golden("v" + MessageCodec.VERSION);
        Map<String, String> written =
                SampleMessages.all().entrySet().stream()
                        .collect(
                                Collectors.toMap(
                                        Map.Entry::getKey, e -> hex(codec.encode(e.getValue()))));
        assertEquals(golden.keySet(), written.keySet());
        golden.forEach(
                (name, octets) ->
                        assertEquals(
                                octets,
                                written.get(name),
                                name + ": old programs could not read this any more"));
    }

    @Test
    void messagesOfVersion1AreStillRead() throws IOException, URISyntaxException {
        Map<String, String> golden = golden("v1");
        assertTrue(golden.size() >= 15, "only " + golden.size() + " golden messages");
        golden.forEach(
                (name, octets) ->
                        assertEquals(
                                new Decoded.Understood<>(SampleMessages.named(name)),
                                codec.decode(HexFormat.of().parseHex(octets)),
                                name));
    }

    @Test
    void aJournalRecordIsTheSameAloneAndInABatch() {
        Message message = SampleMessages.named("history-batch");
        HistoryBatch batch = (HistoryBatch) message;
        String whole = hex(codec.encode(batch));
        for (JournalRecord entry : batch.records()) {
            assertTrue(whole.contains(hex(codec.encodeRecord(entry))));
        }
        assertEquals(3, batch.records().size());
    }

    private static Map<String, String> golden(String version)
            throws IOException, URISyntaxException {
        URL folder = GoldenMessagesTest.class.getResource("/golden/" + version);
        try (Stream<Path> files =
                Files.list(Path.of(Objects.requireNonNull(folder, version).toURI()))) {
            List<Path> all = files.toList();
            return all.stream()
                    .collect(
                            Collectors.toMap(GoldenMessagesTest::name, GoldenMessagesTest::octets));
        }
    }

    private static String name(Path file) {
        return file.getFileName().toString().replace(".cbor.hex", "");
    }

    /** Hexadecimal digits, in lines for people. */
    private static String octets(Path file) {
        try {
            return Files.readString(file).replaceAll("\\s", "");
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static String hex(byte[] octets) {
        return HexFormat.of().formatHex(octets);
    }
}
