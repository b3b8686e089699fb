package io.evenwarm.monitor.chain;

import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.LocalLinks;
import java.io.IOException;
import java.net.StandardProtocolFamily;
import java.net.UnixDomainSocketAddress;
import java.nio.ByteBuffer;
import java.nio.channels.ServerSocketChannel;
import java.nio.channels.SocketChannel;
import java.nio.file.Path;
import java.util.Random;
import java.util.concurrent.atomic.AtomicLong;

/**
 * A line between two programs on which each bit is turned over with the same chance, by a seed.
 * Each end is opened as a serial port would be.
 */
final class NoisyCable implements AutoCloseable {

    private final Path left;
    private final Path right;
    private final double bitErrorRate;
    private final long seed;
    private final AtomicLong bits = new AtomicLong();
    private final AtomicLong errors = new AtomicLong();
    private final ServerSocketChannel leftServer;
    private final ServerSocketChannel rightServer;

    NoisyCable(Path folder, double bitErrorRate, long seed) throws IOException {
        this.left = folder.resolve("left");
        this.right = folder.resolve("right");
        this.bitErrorRate = bitErrorRate;
        this.seed = seed;
        leftServer = listen(left);
        rightServer = listen(right);
        start("cable", this::joinEnds);
    }

    private static ServerSocketChannel listen(Path path) throws IOException {
        ServerSocketChannel server = ServerSocketChannel.open(StandardProtocolFamily.UNIX);
        return server.bind(UnixDomainSocketAddress.of(path));
    }

    Link openLeft() throws LinkException {
        return LocalLinks.connect(left);
    }

    Link openRight() throws LinkException {
        return LocalLinks.connect(right);
    }

    long bits() {
        return bits.get();
    }

    long errors() {
        return errors.get();
    }

    private void joinEnds() {
        try {
            while (true) {
                SocketChannel here = leftServer.accept();
                SocketChannel there = rightServer.accept();
                long number = bits.get();
                start("cable to the right", () -> pass(here, there, seed + number));
                start("cable to the left", () -> pass(there, here, seed - number - 1));
            }
        } catch (IOException e) {
            // Closed: the test is over.
            return;
        }
    }

    private void pass(SocketChannel from, SocketChannel to, long ownSeed) {
        Random random = new Random(ownSeed);
        ByteBuffer octets = ByteBuffer.allocate(4096);
        try (from;
                to) {
            while (from.read(octets.clear()) >= 0) {
                octets.flip();
                damage(octets, random);
                while (octets.hasRemaining()) {
                    to.write(octets);
                }
            }
        } catch (IOException e) {
            // One end is gone, and with it the other.
            return;
        }
    }

    private void damage(ByteBuffer octets, Random random) {
        for (int i = 0; i < octets.limit(); i++) {
            for (int bit = 0; bit < 8; bit++) {
                if (random.nextDouble() < bitErrorRate) {
                    octets.put(i, (byte) (octets.get(i) ^ (1 << bit)));
                    errors.incrementAndGet();
                }
            }
        }
        bits.addAndGet(8L * octets.limit());
    }

    private static void start(String name, Runnable work) {
        Thread thread = new Thread(work, name);
        thread.setDaemon(true);
        thread.start();
    }

    @Override
    public void close() throws IOException {
        leftServer.close();
        rightServer.close();
    }
}
