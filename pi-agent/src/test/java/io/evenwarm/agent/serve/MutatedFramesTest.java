package io.evenwarm.agent.serve;

import static io.evenwarm.agent.Snapshots.cabinet;
import static io.evenwarm.agent.Snapshots.healthy;
import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.Snapshots;
import io.evenwarm.codec.MessageCodec;
import io.evenwarm.frame.FrameReader;
import io.evenwarm.frame.FrameWriter;
import io.evenwarm.link.Identity;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.Message;
import io.evenwarm.message.Message.Hello;
import io.evenwarm.message.Role;
import java.io.ByteArrayOutputStream;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;

/**
 * Seeded garbage that looks like frames, through the real frame reader, codec and session: no
 * exception gets out, memory is bounded, and the next good frame is read.
 *
 * <p>A few million octets in each build; {@code -Devenwarm.mutated.octets=200000000} for the whole
 * run that {@code docs/evidence.md} names, and {@code -Devenwarm.mutated.seed} for another one.
 */
final class MutatedFramesTest {

    private static final long OCTETS = Long.getLong("evenwarm.mutated.octets", 4_000_000L);
    private static final long SEED = Long.getLong("evenwarm.mutated.seed", 1662L);

    /** One frame reader holds one frame; a session some messages. The rest is the collector's. */
    private static final long GROWTH_OCTETS_MAX = 24_000_000L;

    /** As a session's own thread does, this many messages at most before its replies are sent. */
    private static final int SAYS_MAX = 1000;

    private static final MessageCodec CODEC = new MessageCodec();

    private final HandClock clock = new HandClock();
    private final SnapshotBoard board = new SnapshotBoard(List.of(cabinet("north")));
    private final ListJournal journal = new ListJournal();
    private final HeldCommands commands = new HeldCommands();
    private final Identity monitor = Identity.create("monitor");
    private final PairingDesk desk =
            new PairingDesk(
                    new AgentName("egg room"),
                    new ListedMonitors().with(monitor.pin(), Role.OPERATE),
                    () -> AgentRig.IDENTITY,
                    clock);
    private final ServeContext context =
            AgentRig.context(board, journal, commands, clock, RunState.NONE, desk);
    private final List<Peer> kinds =
            List.of(
                    new Peer.Line(),
                    new Peer.Keyed(monitor.pin()),
                    new Peer.Keyed(Identity.create("stranger").pin()),
                    new Peer.Trusted());

    private final Random random = new Random(SEED);
    private final List<byte[]> good = goodPayloads();
    private final FrameReader reader = new FrameReader();
    private Session session = newSession(0);
    private long understood;
    private long sessions = 1;
    private byte[] lastPayload = new byte[0];

    private Session newSession(int kind) {
        return new Session(context, kinds.get(kind), kind != 0, 64, () -> {}, clock.nanos());
    }

    private List<byte[]> goodPayloads() {
        String key = monitor.publicKey();
        List<Message> messages =
                List.of(
                        new Hello(List.of(1), Hello.Side.MONITOR, "desk", "monitor 1", 1),
                        new Hello(List.of(2, 3), Hello.Side.LOCAL, "x", "y", 1),
                        new Message.HistoryRequest(0),
                        new Message.Acknowledge(3),
                        new Message.StatusRequest(),
                        new Message.KeepAlive(),
                        new Message.Goodbye("bye"),
                        new Message.CommandRequest(1, new Command.Silence(cabinet("north"))),
                        new Message.CommandRequest(
                                2, new Command.StartPlannedWork(cabinet("north"), 15)),
                        new Message.CommandAnswer(1, new CommandOutcome.Done("done")),
                        new Message.Live(healthy("north", 1, true)),
                        new Message.Time(Snapshots.moment(1)),
                        new Message.SignedCommand(1, key, "bfff", "3006020101020101"),
                        new Message.Challenge("00".repeat(32)),
                        new Message.PairRequest("desk", key),
                        new Message.PairNonce("44".repeat(32)),
                        new Message.PairConfirm(true),
                        new Message.PairOpen(Role.LOOK));
        return messages.stream().map(CODEC::encode).toList();
    }

    @Test
    void garbageEndsInNothingAndTheNextGoodFrameIsRead() {
        board.published(healthy("north", 1, true));
        journal.commit(5);
        long fed = 0;
        long before = usedOctets();
        long mostGrowth = 0;
        long rounds = 0;
        while (fed < OCTETS) {
            byte[] line = mutatedLine();
            feed(line);
            fed += line.length;
            fed += goodFrameIsRead();
            rounds++;
            if (rounds % 4096 == 0) {
                mostGrowth = Math.max(mostGrowth, usedOctets() - before);
                clock.advanceSeconds(1);
            }
        }
        mostGrowth = Math.max(mostGrowth, usedOctets() - before);
        System.out.printf(
                Locale.ROOT,
                "kept-3 mutated frames: %,d octets of seed %d, %,d good frames between them all"
                        + " read, %,d mutated messages understood, %,d sessions, discarded %s, heap"
                        + " grew by %.1f MB at most%n",
                fed,
                SEED,
                rounds,
                understood - rounds,
                sessions,
                reader.faults(),
                mostGrowth / 1e6);
        assertTrue(mostGrowth < GROWTH_OCTETS_MAX, "heap grew by " + mostGrowth + " octets");
        assertTrue(understood > rounds, "mutations never got past the codec");
    }

    /** In use after a collection. */
    private static long usedOctets() {
        System.gc();
        Runtime runtime = Runtime.getRuntime();
        return runtime.totalMemory() - runtime.freeMemory();
    }

    private void feed(byte[] line) {
        int at = 0;
        while (at < line.length) {
            int length = Math.min(1 + random.nextInt(4096), line.length - at);
            reader.feed(line, at, length, this::take);
            at += length;
        }
    }

    /** As the link's reader and the session's thread do with what came. */
    private void take(byte[] payload) {
        lastPayload = payload;
        Optional<Message> message = CODEC.decode(payload).value();
        if (message.isEmpty()) {
            return;
        }
        understood++;
        session.heard(clock.nanos());
        if (session.isReadyForMore()) {
            session.received(message.get(), clock.nanos());
        }
        commands.answerAll(new CommandOutcome.Done("done"));
        int said = 0;
        while (session.next(clock.nanos()).isPresent()) {
            said++;
            assertTrue(said < SAYS_MAX, "it never stops talking");
        }
        if (session.isOver()) {
            session.close();
            session = newSession((int) (sessions % kinds.size()));
            sessions++;
            if (sessions % 2 == 0) {
                session.received(
                        new Hello(List.of(1), Hello.Side.MONITOR, "desk", "monitor 1", 1),
                        clock.nanos());
            }
        }
    }

    private long goodFrameIsRead() {
        byte[] payload = CODEC.encode(new Message.Acknowledge(random.nextLong()));
        byte[] frame = FrameWriter.frame(payload);
        // Its first flag may end a frame before it that lost only its own.
        feed(Arrays.copyOf(frame, 1));
        long before = understood;
        feed(Arrays.copyOfRange(frame, 1, frame.length));
        assertArrayEquals(payload, lastPayload);
        assertEquals(before + 1, understood);
        return frame.length;
    }

    /** A few frames, most of them with something wrong. */
    private byte[] mutatedLine() {
        ByteArrayOutputStream line = new ByteArrayOutputStream();
        int frames = 1 + random.nextInt(4);
        for (int i = 0; i < frames; i++) {
            byte[] payload = random.nextInt(8) == 0 ? hostilePayload() : mutatedPayload();
            byte[] fitting = cut(payload, FrameWriter.MAX_PAYLOAD_OCTETS);
            byte[] frame = FrameWriter.frame(fitting.length > 0 ? fitting : noise(1));
            line.writeBytes(random.nextInt(3) == 0 ? mutated(frame) : frame);
        }
        if (random.nextInt(16) == 0) {
            line.writeBytes(noise(random.nextInt(3000)));
        }
        if (random.nextInt(2000) == 0) {
            line.writeBytes(noiseWithoutFlags(200_000));
        }
        return line.toByteArray();
    }

    /** A good message with its octets changed, under a checksum that is right. */
    private byte[] mutatedPayload() {
        byte[] one = good.get(random.nextInt(good.size()));
        return random.nextInt(4) == 0 ? one : mutated(one);
    }

    private byte[] mutated(byte[] octets) {
        byte[] changed = octets.clone();
        switch (random.nextInt(6)) {
            case 0 -> {
                int flips = 1 + random.nextInt(8);
                for (int i = 0; i < flips && changed.length > 0; i++) {
                    changed[random.nextInt(changed.length)] ^= (byte) (1 << random.nextInt(8));
                }
            }
            case 1 -> changed = cut(changed, random.nextInt(changed.length + 1));
            case 2 -> changed = joined(changed, octets);
            case 3 -> {
                int from = random.nextInt(changed.length + 1);
                changed =
                        joined(
                                Arrays.copyOfRange(changed, from, changed.length),
                                cut(octets, from));
            }
            case 4 -> changed = joined(cut(changed, random.nextInt(changed.length + 1)), noise(20));
            default -> {
                // A head of CBOR that promises giant lengths: text, octets, array, map of 2^32 and
                // up.
                int at = random.nextInt(changed.length + 1);
                byte[] giant = {
                    (byte) (0x5B + 0x20 * random.nextInt(4)), 0x7F, 0, 0, 0, 0, 0, 0, (byte) 0xFF
                };
                changed = joined(joined(cut(changed, at), giant), octets);
            }
        }
        return changed;
    }

    private byte[] hostilePayload() {
        byte[] payload = new byte[1 + random.nextInt(20_000)];
        int kind = random.nextInt(6);
        byte repeated =
                switch (kind) {
                    case 0 -> (byte) 0x81; // arrays in arrays
                    case 1 -> (byte) 0x9F; // the same, of no stated length
                    case 2 -> (byte) 0xBF; // maps whose keys are maps
                    case 3 -> (byte) 0xC1; // tags on tags
                    case 4 -> (byte) 0x7F; // texts in texts
                    default -> 0x61;
                };
        Arrays.fill(payload, repeated);
        if (kind == 5) {
            // One huge text as the type of a message.
            payload[0] = (byte) 0xA1;
            byte[] key = {0x64, 't', 'y', 'p', 'e', 0x79, (byte) (payload.length >> 8), 0};
            System.arraycopy(
                    key,
                    0,
                    payload,
                    Math.min(1, payload.length - 1),
                    Math.min(key.length, payload.length - 1));
        }
        return payload;
    }

    private byte[] noise(int length) {
        byte[] noise = new byte[length];
        random.nextBytes(noise);
        return noise;
    }

    private byte[] noiseWithoutFlags(int length) {
        byte[] noise = noise(length);
        for (int i = 0; i < length; i++) {
            noise[i] = noise[i] == 0x7E ? 0x55 : noise[i];
        }
        return noise;
    }

    private static byte[] cut(byte[] octets, int length) {
        return Arrays.copyOf(octets, Math.min(length, octets.length));
    }

    private static byte[] joined(byte[] first, byte[] second) {
        byte[] both = Arrays.copyOf(first, first.length + second.length);
        System.arraycopy(second, 0, both, first.length, second.length);
        return both;
    }
}
