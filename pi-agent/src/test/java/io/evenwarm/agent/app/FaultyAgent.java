package io.evenwarm.agent.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.clock.WallClock;
import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import picocli.CommandLine;

/**
 * The agent's {@code run} with one more part: a clock that does to the control thread what the file
 * named by {@code -Dfault.file} says, once it is there. In tests only; everything else is the
 * packaged agent.
 */
final class FaultyAgent {

    private FaultyAgent() {}

    public static void main(String[] arguments) {
        LogSetup.toStream(new FileOutputStream(FileDescriptor.err), ZoneId.systemDefault());
        WallClock clock = new FaultyClock(Path.of(System.getProperty("fault.file", "")));
        // The first word is the command's name, "run".
        String[] options = List.of(arguments).subList(1, arguments.length).toArray(String[]::new);
        System.exit(
                new CommandLine(new RunCommand(SystemClock.monotonic(), clock)).execute(options));
    }

    /**
     * What control hears from it is right until the fault.
     *
     * @param file names the fault
     */
    private record FaultyClock(Path file) implements WallClock {

        @Override
        public Instant now() {
            if (Thread.currentThread().getName().equals("control") && Files.exists(file)) {
                fail(word(file));
            }
            return SystemClock.wall().now();
        }

        @Override
        public boolean isTrusted() {
            return SystemClock.wall().isTrusted();
        }

        private static String word(Path file) {
            try {
                return Files.readString(file).strip();
            } catch (IOException e) {
                throw new IllegalStateException(e);
            }
        }

        private static void fail(String what) {
            switch (what) {
                case "thread" -> throw new IllegalStateException("put in by the test");
                case "deadlock" -> deadlock();
                case "memory" -> fillMemory();
                default -> throw new IllegalStateException("unknown fault: " + what);
            }
        }

        /** Two threads, two locks, each waits for the other's for ever. */
        private static void deadlock() {
            Object first = new Object();
            Object second = new Object();
            CountDownLatch bothHold = new CountDownLatch(2);
            Thread other = new Thread(() -> take(second, first, bothHold), "deadlocked with");
            other.setDaemon(true);
            other.start();
            take(first, second, bothHold);
        }

        private static void take(Object mine, Object theirs, CountDownLatch bothHold) {
            synchronized (mine) {
                bothHold.countDown();
                try {
                    bothHold.await();
                } catch (InterruptedException e) {
                    Thread.currentThread().interrupt();
                }
                synchronized (theirs) {
                    throw new IllegalStateException("no deadlock");
                }
            }
        }

        private static void fillMemory() {
            List<long[]> kept = new ArrayList<>();
            while (kept.size() < Integer.MAX_VALUE) {
                kept.add(new long[1 << 16]);
            }
            throw new IllegalStateException("memory without end: " + kept.size());
        }
    }
}
