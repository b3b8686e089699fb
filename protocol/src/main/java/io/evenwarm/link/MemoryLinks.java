package io.evenwarm.link;

import java.io.IOException;

/** Links between two parts of one program, through the same codec and frames as any other. */
public final class MemoryLinks {

    private MemoryLinks() {}

    /** Two ends of one link: what one sends, the other receives. */
    public record Pair(Link left, Link right) {}

    /** A new link in memory. Each direction holds a bounded number of octets, as a socket does. */
    public static Pair pair() {
        OctetRing toRight = new OctetRing();
        OctetRing toLeft = new OctetRing();
        return new Pair(
                FramedLink.over(new MemoryOctets(toLeft, toRight), "the right end in memory"),
                FramedLink.over(new MemoryOctets(toRight, toLeft), "the left end in memory"));
    }

    private record MemoryOctets(OctetRing in, OctetRing out) implements Octets {
        @Override
        public int read(byte[] buffer) {
            return in.read(buffer);
        }

        @Override
        public void write(byte[] octets) throws IOException {
            out.write(octets);
        }

        /** The other end still reads what was sent before, as with a socket. */
        @Override
        public void close() {
            out.closeForWriting();
            in.closeForReading();
        }
    }
}
