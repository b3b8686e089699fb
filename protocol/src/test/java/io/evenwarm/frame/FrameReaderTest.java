package io.evenwarm.frame;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** [1] RFC 1662, PPP in HDLC-like Framing. */
final class FrameReaderTest {

    private final FrameReader reader = new FrameReader();
    private final List<byte[]> got = new ArrayList<>();

    /** How octets come off a line. The same contract holds for each. */
    enum Source {
        WHOLE {
            @Override
            void feed(FrameReader to, byte[] line, List<byte[]> got) {
                to.feed(line, got::add);
            }
        },
        OCTET_BY_OCTET {
            @Override
            void feed(FrameReader to, byte[] line, List<byte[]> got) {
                for (int i = 0; i < line.length; i++) {
                    to.feed(line, i, 1, got::add);
                }
            }
        },
        HALVES {
            @Override
            void feed(FrameReader to, byte[] line, List<byte[]> got) {
                to.feed(line, 0, line.length / 2, got::add);
                to.feed(line, line.length / 2, line.length - line.length / 2, got::add);
            }
        },
        SEEDED_PIECES {
            @Override
            void feed(FrameReader to, byte[] line, List<byte[]> got) {
                Random random = new Random(11);
                int at = 0;
                while (at < line.length) {
                    int length = Math.min(random.nextInt(7), line.length - at);
                    to.feed(line, at, length, got::add);
                    at += length;
                }
            }
        };

        abstract void feed(FrameReader to, byte[] line, List<byte[]> got);
    }

    @ParameterizedTest
    @EnumSource
    void framesComeOutInOrderWhateverThePieces(Source source) {
        List<byte[]> payloads = payloads(new Random(1), 200);
        source.feed(reader, line(payloads, new byte[0]), got);
        assertSame(payloads, got);
        assertEquals(FrameFaults.NONE, reader.faults());
    }

    @ParameterizedTest
    @EnumSource
    void noiseBetweenFramesIsPassedOverAndCounted(Source source) {
        List<byte[]> payloads = payloads(new Random(2), 50);
        source.feed(reader, line(payloads, "noise!".getBytes(US_ASCII)), got);
        assertSame(payloads, got);
        assertEquals(new FrameFaults(0, 0, 0, payloads.size()), reader.faults());
    }

    @ParameterizedTest
    @EnumSource
    void oneFlagMayEndAFrameAndBeginTheNext(Source source) {
        // [1] s.4.1: "Only one Flag Sequence is required between two frames."
        byte[] one = FrameWriter.frame(new byte[] {1});
        byte[] two = FrameWriter.frame(new byte[] {2});
        ByteArrayOutputStream line = new ByteArrayOutputStream();
        line.writeBytes(one);
        line.write(two, 1, two.length - 1);
        source.feed(reader, line.toByteArray(), got);
        assertSame(List.of(new byte[] {1}, new byte[] {2}), got);
    }

    @ParameterizedTest
    @EnumSource
    void anEscapeBeforeTheFlagAbortsTheFrameAndIsNoChecksumFault(Source source) {
        // [1] s.4.3: "a Control Escape octet followed immediately by a closing Flag Sequence" is
        // an invalid frame, discarded and not counted as an FCS error.
        source.feed(reader, HexFormat.of().parseHex("7e31323334357d7e"), got);
        source.feed(reader, FrameWriter.frame(new byte[] {5}), got);
        assertSame(List.of(new byte[] {5}), got);
        assertEquals(new FrameFaults(1, 0, 0, 0), reader.faults());
    }

    @Test
    void framesTooShortForAPayloadAreCountedApart() {
        // [1] s.4.3: frames that are too short are discarded and not counted as FCS errors.
        reader.feed(HexFormat.of().parseHex("7e01020304" + "7e01" + "7e"), got::add);
        assertTrue(got.isEmpty());
        assertEquals(new FrameFaults(0, 2, 0, 0), reader.faults());
    }

    @Test
    void flagsAloneFillTimeAndCountAsNothing() {
        // [1] s.4.4.1: flags between frames are time fill.
        reader.feed(HexFormat.of().parseHex("7e7e7e7e7e"), got::add);
        assertTrue(got.isEmpty());
        assertEquals(FrameFaults.NONE, reader.faults());
    }

    @Test
    void octetsBeforeTheFirstFlagAreTheEndOfSomethingUnseen() {
        reader.feed("rest of a frame".getBytes(US_ASCII), got::add);
        reader.feed(FrameWriter.frame(new byte[] {6}), got::add);
        assertSame(List.of(new byte[] {6}), got);
        assertEquals(FrameFaults.NONE, reader.faults());
    }

    @Test
    void anyOctetMayComeEscaped() {
        // [1] s.4.2: 03 may be sent as 7D 23 by a sender whose map asks for it.
        byte[] plain = FrameWriter.frame(new byte[] {3});
        byte[] escaped = new byte[plain.length + 1];
        escaped[0] = 0x7E;
        escaped[1] = 0x7D;
        escaped[2] = 0x23;
        System.arraycopy(plain, 2, escaped, 3, plain.length - 2);
        reader.feed(escaped, got::add);
        assertSame(List.of(new byte[] {3}), got);
    }

    @Test
    void flowControlOctetsThatTheLinePutInAreTakenOut() {
        // [1] s.4.2: mapped control octets that come bare were put in by equipment on the way.
        byte[] frame = FrameWriter.frame(new byte[] {0x7E, 7});
        for (int at = 1; at < frame.length; at++) {
            byte[] line = new byte[frame.length + 2];
            System.arraycopy(frame, 0, line, 0, at);
            line[at] = 0x13;
            line[at + 1] = 0x11;
            System.arraycopy(frame, at, line, at + 2, frame.length - at);
            reader.feed(line, got::add);
        }
        assertEquals(frame.length - 1, got.size());
        assertEquals(FrameFaults.NONE, reader.faults());
    }

    @Test
    void theLongestPayloadPassesAndOneMoreOctetIsTooLong() {
        byte[] longest = new byte[FrameWriter.MAX_PAYLOAD_OCTETS];
        new Random(3).nextBytes(longest);
        reader.feed(FrameWriter.frame(longest), got::add);
        assertSame(List.of(longest), got);

        byte[] tooLong = new byte[FrameWriter.MAX_PAYLOAD_OCTETS + 10];
        Arrays.fill(tooLong, (byte) 'x');
        reader.feed(new byte[] {0x7E}, got::add);
        reader.feed(tooLong, got::add);
        reader.feed(FrameWriter.frame(new byte[] {8}), got::add);
        assertEquals(new FrameFaults(0, 0, 1, 0), reader.faults());
        assertArrayEquals(new byte[] {8}, got.get(1));
    }

    /**
     * Changes one thing in each of many frames and says which frames may still come out: only
     * payloads that were sent, and each undamaged one. A CRC of 32 bits finds every burst of up to
     * 32 bits, so that no single damaged octet can pass.
     */
    @Test
    void aDamagedFrameNeverPassesAndNeverTakesAnUndamagedOneWithIt() {
        for (int seed = 0; seed < 2_000; seed++) {
            Random random = new Random(seed);
            FrameReader each = new FrameReader();
            List<byte[]> sent = payloads(random, 3);
            List<byte[]> received = new ArrayList<>();
            each.feed(FrameWriter.frame(sent.get(0)), received::add);
            each.feed(mutated(FrameWriter.frame(sent.get(1)), random), received::add);
            each.feed(FrameWriter.frame(sent.get(2)), received::add);
            List<byte[]> allowed = List.of(sent.get(0), sent.get(2));
            boolean unharmed = received.size() == 3;
            assertSame(unharmed ? sent : allowed, received, "seed " + seed);
            assertTrue(unharmed || each.faults().total() >= 1, "nothing counted, seed " + seed);
        }
    }

    @Test
    void anyNoiseLeavesTheNextFrameWhole() {
        for (int seed = 0; seed < 500; seed++) {
            Random random = new Random(seed);
            byte[] noise = new byte[random.nextInt(2_000)];
            random.nextBytes(noise);
            FrameReader each = new FrameReader();
            List<byte[]> received = new ArrayList<>();
            each.feed(noise, received::add);
            assertTrue(received.isEmpty(), "noise passed as a frame, seed " + seed);
            each.feed(FrameWriter.frame(new byte[] {9}), received::add);
            assertSame(List.of(new byte[] {9}), received, "seed " + seed);
        }
    }

    /** One octet changed, dropped or doubled; flags at the ends stay, since they are the frame. */
    private static byte[] mutated(byte[] frame, Random random) {
        int at = 1 + random.nextInt(frame.length - 2);
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        out.write(frame, 0, at);
        switch (random.nextInt(3)) {
            case 0 -> out.write(frame[at] ^ (1 + random.nextInt(255)));
            case 1 -> {
                out.write(frame[at]);
                out.write(frame[at]);
            }
            default -> {
                // Dropped.
            }
        }
        out.write(frame, at + 1, frame.length - at - 1);
        return out.toByteArray();
    }

    private static List<byte[]> payloads(Random random, int count) {
        List<byte[]> payloads = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            byte[] payload = new byte[1 + random.nextInt(300)];
            random.nextBytes(payload);
            payloads.add(payload);
        }
        return payloads;
    }

    private static byte[] line(List<byte[]> payloads, byte[] noise) {
        ByteArrayOutputStream line = new ByteArrayOutputStream();
        for (byte[] payload : payloads) {
            line.writeBytes(FrameWriter.frame(payload));
            line.writeBytes(noise);
        }
        line.write(0x7E);
        return line.toByteArray();
    }

    private static void assertSame(List<byte[]> expected, List<byte[]> actual) {
        assertSame(expected, actual, "");
    }

    private static void assertSame(List<byte[]> expected, List<byte[]> actual, String note) {
        assertEquals(hex(expected), hex(actual), note);
    }

    private static List<String> hex(List<byte[]> payloads) {
        return payloads.stream().map(HexFormat.of()::formatHex).toList();
    }
}
