package io.evenwarm.codec;

import static java.util.Objects.requireNonNull;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.dataformat.cbor.databind.CBORMapper;
import io.evenwarm.frame.FrameWriter;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Message;
import io.evenwarm.message.Message.HistoryBatch;
import java.io.IOException;
import java.util.Arrays;
import java.util.Collections;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.function.Consumer;
import org.junit.jupiter.api.Test;

final class MessageCodecTest {

    private final MessageCodec codec = new MessageCodec();
    private final CBORMapper plain = new CBORMapper();

    @Test
    void everyMessageComesBackAsItWas() {
        Set<Class<?>> kinds = new HashSet<>();
        for (int seed = 0; seed < 3_000; seed++) {
            Message message = new RandomMessages(seed).message();
            kinds.add(message.getClass());
            assertEquals(
                    new Decoded.Understood<>(message),
                    codec.decode(codec.encode(message)),
                    "seed " + seed);
        }
        assertEquals(Set.of(Message.class.getPermittedSubclasses()), kinds);
    }

    @Test
    void everyJournalRecordComesBackAsItWas() {
        for (int seed = 0; seed < 2_000; seed++) {
            JournalRecord entry = new RandomMessages(seed).journalRecord();
            assertEquals(
                    new Decoded.Understood<>(entry),
                    codec.decodeRecord(codec.encodeRecord(entry)),
                    "seed " + seed);
        }
    }

    @Test
    void keysOfALaterVersionAreIgnored() throws IOException {
        Message time = SampleMessages.named("time");
        byte[] octets = changed(time, map -> map.put("leapSeconds", List.of(37, Map.of("a", 1))));
        assertEquals(new Decoded.Understood<>(time), codec.decode(octets));
    }

    /** Keys of a message itself; the page's schema marks the same ones with a question mark. */
    private static final Set<String> MAY_BE_MISSING =
            Set.of(
                    "pair-result.role",
                    "pair-result.name",
                    "pair-state.code",
                    "pair-state.monitor",
                    "pair-state.key");

    @Test
    void eachMissingOrNullOrWronglyTypedValueIsAReasonThatNamesItsKey() throws IOException {
        for (Map.Entry<String, Message> sample : SampleMessages.all().entrySet()) {
            for (String key : tree(sample.getValue()).keySet()) {
                String what = sample.getKey() + "." + key;
                byte[] without = changed(sample.getValue(), map -> map.remove(key));
                if (MAY_BE_MISSING.contains(what)) {
                    assertTrue(codec.decode(without).value().isPresent(), what);
                } else {
                    String missing = reason(without);
                    assertTrue(missing.contains(key), what + " missing: " + missing);
                    String isNull = reason(changed(sample.getValue(), map -> map.put(key, null)));
                    assertTrue(isNull.contains(key), what + " null: " + isNull);
                }
                Map<String, Object> nested = Map.of("a", List.of(List.of()));
                String wrong = reason(changed(sample.getValue(), map -> map.put(key, nested)));
                assertTrue(wrong.contains(key), what + " wrong: " + wrong);
            }
        }
    }

    @Test
    void numbersAsTextAndFractionsAsWholeNumbersAreFaults() throws IOException {
        Message acknowledge = new Message.Acknowledge(5);
        assertTrue(
                reason(changed(acknowledge, map -> map.put("sequence", "5"))).contains("sequence"));
        assertTrue(
                reason(changed(acknowledge, map -> map.put("sequence", 5.5))).contains("sequence"));
        assertTrue(
                reason(changed(acknowledge, map -> map.put("sequence", true)))
                        .contains("sequence"));
    }

    @Test
    void valuesThatARecordRefusesAreReasonsInItsOwnWords() throws IOException {
        Message hello = SampleMessages.named("hello");
        String reason = reason(changed(hello, map -> map.put("clockRate", Double.NaN)));
        assertTrue(reason.contains("clock rate must be above 0"), reason);
        Message silence = SampleMessages.named("command-silence");
        String bad =
                reason(
                        changed(
                                silence,
                                map ->
                                        map.put(
                                                "command",
                                                Map.of("type", "silence", "cabinet", "../x"))));
        assertTrue(bad.startsWith("command/cabinet: cabinet name must be"), bad);
    }

    @Test
    void anUnknownTypeIsNotUnderstood() throws IOException {
        String reason =
                reason(changed(new Message.KeepAlive(), map -> map.put("type", "weigh-tub")));
        assertTrue(reason.contains("weigh-tub"), reason);
    }

    @Test
    void aReadingHasOneValueOrADoubt() throws IOException {
        Message live = SampleMessages.named("live");
        Map<String, Object> reading = new LinkedHashMap<>();
        reading.put("probe", "a");
        reading.put("place", "top");
        reading.put("sampledAtNanos", 1);
        String none = reason(withReading(live, reading));
        assertTrue(none.contains("celsius, humidityPercent or doubt"), none);
        reading.put("celsius", 30.0);
        reading.put("humidityPercent", 50.0);
        String both = reason(withReading(live, reading));
        assertTrue(both.contains("one value"), both);
    }

    @Test
    void noiseIsNeverAnExceptionAndItsReasonFitsInALog() {
        for (int seed = 0; seed < 5_000; seed++) {
            Random random = new Random(seed);
            byte[] noise = new byte[random.nextInt(200)];
            random.nextBytes(noise);
            assertSafe(codec.decode(noise), seed);
            assertSafe(codec.decodeRecord(noise), seed);
        }
    }

    @Test
    void damagedMessagesAreNeverAnException() {
        for (int seed = 0; seed < 5_000; seed++) {
            Random random = new Random(seed);
            byte[] octets = codec.encode(new RandomMessages(seed).message());
            for (int i = random.nextInt(4); i >= 0; i--) {
                octets[random.nextInt(octets.length)] = (byte) random.nextInt();
            }
            assertSafe(codec.decode(octets), seed);
        }
    }

    @Test
    void everyTruncationIsNotUnderstood() {
        for (Message message : SampleMessages.all().values()) {
            byte[] whole = codec.encode(message);
            for (int length = 0; length < whole.length; length++) {
                assertInstanceOf(
                        Decoded.NotUnderstood.class, codec.decode(Arrays.copyOf(whole, length)));
            }
        }
    }

    @Test
    void somethingAfterTheMessageIsNotUnderstood() {
        byte[] whole = codec.encode(new Message.KeepAlive());
        byte[] longer = Arrays.copyOf(whole, whole.length + 1);
        assertInstanceOf(Decoded.NotUnderstood.class, codec.decode(longer));
    }

    @Test
    void deepNestingAndHugeLengthsCostNothing() throws IOException {
        byte[] deep = new byte[MessageCodec.MAX_OCTETS];
        Arrays.fill(deep, (byte) 0x81);
        reason(deep);
        Object nested = 1;
        for (int i = 0; i < 100; i++) {
            nested = Collections.singletonMap("type", nested);
        }
        reason(plain.writeValueAsBytes(nested));
        // Text, bytes, array and map that claim 2^62 items in a few octets.
        for (int head : new int[] {0x7B, 0x5B, 0x9B, 0xBB}) {
            reason(new byte[] {(byte) head, 0x40, 0, 0, 0, 0, 0, 0, 0});
        }
        reason(new byte[MessageCodec.MAX_OCTETS + 1]);
        byte[] longText =
                plain.writeValueAsBytes(Map.of("type", "goodbye", "reason", "x".repeat(65_400)));
        assertEquals("", codec.decode(longText).fold(content -> "", reason -> reason));
    }

    @Test
    void theSameKeyTwiceIsNotUnderstood() {
        // RFC 8949 s.5.6: a map with duplicate keys is not valid.
        byte[] octets =
                HexFormat.of()
                        .parseHex(
                                "a3"
                                        + ("64" + "74797065")
                                        + ("6b" + "61636b6e6f776c65646765")
                                        + ("68" + "73657175656e6365" + "01")
                                        + ("68" + "73657175656e6365" + "02"));
        assertTrue(reason(octets).contains("uplicate"), reason(octets));
    }

    @Test
    void aBatchTakesWhatFitsInAFrameAndAtLeastOne() {
        JournalRecord small = SampleMessages.readings();
        HistoryBatch full = codec.batch("j", Collections.nCopies(200, small));
        assertEquals(HistoryBatch.MAX_RECORDS, full.records().size());
        assertFits(full);

        JournalRecord big = event("x".repeat(5_000));
        HistoryBatch some = codec.batch("j", Collections.nCopies(64, big));
        assertFits(some);
        int octetsOfOne = codec.encodeRecord(big).length;
        assertEquals(MessageCodec.MAX_OCTETS / octetsOfOne, some.records().size());

        assertEquals(1, codec.batch("j", List.of(event("x".repeat(70_000)))).records().size());
        assertEquals(0, codec.batch("j", List.of()).records().size());
    }

    @Test
    void messagesAreAllowedToBeAsLongAsAFramesPayload() {
        assertEquals(FrameWriter.MAX_PAYLOAD_OCTETS, MessageCodec.MAX_OCTETS);
    }

    private void assertFits(HistoryBatch batch) {
        int octets = codec.encode(batch).length;
        assertTrue(octets <= MessageCodec.MAX_OCTETS, octets + " octets");
    }

    private static JournalRecord event(String words) {
        return new JournalRecord.Event(
                1,
                SampleMessages.started().moment(),
                Optional.of(new CabinetName("north")),
                JournalRecord.Event.Kind.SILENCED,
                Optional.empty(),
                words);
    }

    private static void assertSafe(Decoded<?> decoded, int seed) {
        String reason = decoded.fold(content -> "", words -> words);
        assertTrue(reason.length() <= 201, "seed " + seed + ": " + reason);
        assertTrue(
                reason.codePoints().noneMatch(Character::isISOControl),
                "seed " + seed + ": " + reason);
    }

    private String reason(byte[] octets) {
        return codec.decode(octets)
                .fold(
                        content -> {
                            throw new AssertionError("understood as " + content);
                        },
                        words -> words);
    }

    private Map<String, Object> tree(Message message) throws IOException {
        @SuppressWarnings("unchecked") // Every message is a map with text keys.
        Map<String, Object> map = plain.readValue(codec.encode(message), Map.class);
        return map;
    }

    private byte[] changed(Message message, Consumer<Map<String, Object>> change)
            throws IOException {
        Map<String, Object> map = tree(message);
        change.accept(map);
        return plain.writeValueAsBytes(map);
    }

    private byte[] withReading(Message live, Map<String, Object> reading) throws IOException {
        return changed(
                live,
                map -> {
                    @SuppressWarnings("unchecked") // A snapshot is a map with text keys.
                    Map<String, Object> snapshot =
                            (Map<String, Object>) requireNonNull(map.get("snapshot"));
                    snapshot.put("probes", List.of(reading));
                });
    }
}
