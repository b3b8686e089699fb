package io.evenwarm.codec;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.dataformat.cbor.databind.CBORMapper;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.message.Message;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/**
 * Times the codec beside bare Jackson CBOR on the same content, which that reads into plain maps
 * and writes from them, and says how much memory a message takes at the begin and at the end.
 */
public final class CodecBenchmark {

    /** Both ways may take so many times what the bare library takes. */
    public static final double RATIO_MAX = 2;

    private static final int WARM_UPS = 40;
    private static final int RUNS = 31;

    private final MessageCodec codec = new MessageCodec();
    private final ObjectMapper bare = new CBORMapper();
    private final MonotonicClock clock;
    private final List<Message> messages;
    private final List<byte[]> encoded = new ArrayList<>();
    private final List<Map<?, ?>> maps = new ArrayList<>();
    private long seen;

    private CodecBenchmark(MonotonicClock clock, List<Message> messages) throws IOException {
        this.clock = clock;
        this.messages = List.copyOf(messages);
        for (Message message : messages) {
            byte[] octets = codec.encode(message);
            encoded.add(octets);
            maps.add(bare.readValue(octets, Map.class));
        }
    }

    /**
     * Medians, for one message.
     *
     * @param encodeNanos what the codec takes to encode it
     * @param bareEncodeNanos what the bare library takes
     * @param decodeNanos what the codec takes to decode it
     * @param bareDecodeNanos what the bare library takes
     * @param octets how long a message is on average
     * @param firstAllocated octets of memory taken by encoding and decoding one, at the begin
     * @param lastAllocated the same at the end, all runs later
     */
    public record Result(
            double encodeNanos,
            double bareEncodeNanos,
            double decodeNanos,
            double bareDecodeNanos,
            double octets,
            double firstAllocated,
            double lastAllocated) {

        public double encodeRatio() {
            return encodeNanos / bareEncodeNanos;
        }

        public double decodeRatio() {
            return decodeNanos / bareDecodeNanos;
        }

        public boolean isWithinBar() {
            return encodeRatio() <= RATIO_MAX && decodeRatio() <= RATIO_MAX;
        }

        public List<String> lines() {
            return List.of(
                    String.format(
                            Locale.ROOT,
                            "snapshots of %.0f octets, median of %d runs, for one message:",
                            octets,
                            RUNS),
                    String.format(
                            Locale.ROOT,
                            "  encode %7.0f ns, bare Jackson CBOR %7.0f ns: %.2f times (at most"
                                    + " %.0f)",
                            encodeNanos,
                            bareEncodeNanos,
                            encodeRatio(),
                            RATIO_MAX),
                    String.format(
                            Locale.ROOT,
                            "  decode %7.0f ns, bare Jackson CBOR %7.0f ns: %.2f times (at most"
                                    + " %.0f)",
                            decodeNanos,
                            bareDecodeNanos,
                            decodeRatio(),
                            RATIO_MAX),
                    String.format(
                            Locale.ROOT,
                            "  memory taken: %,.0f octets at the begin, %,.0f at the end",
                            firstAllocated,
                            lastAllocated));
        }
    }

    /**
     * Takes some seconds on the calling thread.
     *
     * @param messages at least one; more make a run longer
     * @throws IOException when the bare library can't read what the codec wrote
     */
    public static Result run(MonotonicClock clock, List<Message> messages) throws IOException {
        return new CodecBenchmark(clock, messages).measure();
    }

    /** The four take turns, so that what else the machine does meets them all. */
    private Result measure() throws IOException {
        for (int warmUp = 0; warmUp < WARM_UPS; warmUp++) {
            encode();
            bareEncode();
            decode();
            bareDecode();
        }
        double first = allocated();
        double[][] nanos = new double[4][RUNS];
        for (int run = 0; run < RUNS; run++) {
            long begin = clock.nanos();
            encode();
            long encodedAt = clock.nanos();
            bareEncode();
            long bareEncodedAt = clock.nanos();
            decode();
            long decodedAt = clock.nanos();
            bareDecode();
            long end = clock.nanos();
            nanos[0][run] = encodedAt - begin;
            nanos[1][run] = bareEncodedAt - encodedAt;
            nanos[2][run] = decodedAt - bareEncodedAt;
            nanos[3][run] = end - decodedAt;
        }
        double last = allocated();
        if (seen == 0) {
            throw new IllegalStateException("nothing was encoded");
        }
        return new Result(
                median(nanos[0]),
                median(nanos[1]),
                median(nanos[2]),
                median(nanos[3]),
                encoded.stream().mapToInt(octets -> octets.length).average().orElse(0),
                first,
                last);
    }

    private double median(double[] nanos) {
        Arrays.sort(nanos);
        return nanos[nanos.length / 2] / messages.size();
    }

    /** Octets that this thread takes for one message, both ways. */
    private double allocated() {
        long before = allocatedByThread();
        encode();
        decode();
        return (double) (allocatedByThread() - before) / messages.size();
    }

    private static long allocatedByThread() {
        return ManagementFactory.getThreadMXBean() instanceof com.sun.management.ThreadMXBean bean
                ? bean.getCurrentThreadAllocatedBytes()
                : 0;
    }

    private void encode() {
        for (Message message : messages) {
            seen += codec.encode(message).length;
        }
    }

    private void bareEncode() throws IOException {
        for (Map<?, ?> map : maps) {
            seen += bare.writeValueAsBytes(map).length;
        }
    }

    private void decode() {
        for (byte[] octets : encoded) {
            seen += codec.decode(octets) instanceof Decoded.Understood<Message> ? 1 : 0;
        }
    }

    private void bareDecode() throws IOException {
        for (byte[] octets : encoded) {
            seen += bare.readValue(octets, Map.class).size();
        }
    }
}
