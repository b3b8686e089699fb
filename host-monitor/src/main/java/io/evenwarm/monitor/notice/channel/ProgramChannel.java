package io.evenwarm.monitor.notice.channel;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.evenwarm.monitor.notice.Channel;
import io.evenwarm.monitor.notice.Delivery;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeJson;
import io.evenwarm.monitor.notice.PlainLine;
import io.evenwarm.monitor.notice.Recipient;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;

/**
 * Runs a program of the user's for each notice: a fixed list of arguments, no shell, the notice as
 * JSON on its standard input. What it prints is for the log, and only the first of it is kept.
 */
public final class ProgramChannel implements Channel {

    /** Of what it prints. */
    private static final int OUTPUT_OCTETS_MAX = 4096;

    private static final int WORDS_MAX = 200;

    /** sysexits.h: "temp failure; user is invited to retry". */
    private static final int TEMPORARY_FAILURE = 75;

    /** sysexits.h: usage, data, no such user, permission, configuration. */
    private static final Set<Integer> REFUSALS = Set.of(64, 65, 67, 77, 78);

    /** What it needs to run at all; nothing else of ours is its business. */
    private static final Set<String> ENVIRONMENT =
            Set.of("PATH", "HOME", "LANG", "LC_ALL", "TZ", "TMPDIR");

    private static final int AT_ONCE = 2;

    private final String name;
    private final List<String> command;
    private final Duration limit;
    private final ExecutorService pipes =
            Executors.newCachedThreadPool(
                    body -> {
                        Thread daemon = new Thread(body, "notice program's pipe");
                        daemon.setDaemon(true);
                        return daemon;
                    });

    /**
     * A program.
     *
     * @param command the program and its arguments, which are handed over as they stand here
     * @param limit for it to end by itself; then it and what it started are killed
     */
    public ProgramChannel(String name, List<String> command, Duration limit) {
        if (command.isEmpty() || command.get(0).isBlank()) {
            throw new IllegalArgumentException("a program must be named");
        }
        this.name = name;
        this.command = List.copyOf(command);
        this.limit = limit;
    }

    @Override
    public String name() {
        return name;
    }

    @Override
    public int atOnce() {
        return AT_ONCE;
    }

    @Override
    public Delivery deliver(Notice notice, Recipient recipient) {
        ProcessBuilder builder = new ProcessBuilder(command).redirectErrorStream(true);
        builder.environment().keySet().retainAll(ENVIRONMENT);
        Process process;
        try {
            process = builder.start();
        } catch (IOException e) {
            return new Delivery.TryAgain(
                    "it can't be started ("
                            + PlainLine.of(String.valueOf(e.getMessage()), WORDS_MAX)
                            + ")",
                    Duration.ZERO);
        }
        ObjectNode input = NoticeJson.notice(notice);
        input.put("person", recipient.person());
        recipient.answerAt().ifPresent(link -> input.put("acknowledge", link));
        byte[] octets = (input + "\n").getBytes(StandardCharsets.UTF_8);
        // Both at once: a program may print before it reads, or never read.
        CompletableFuture<Void> unusedWriting =
                CompletableFuture.runAsync(() -> write(process, octets), pipes);
        CompletableFuture<String> printed =
                CompletableFuture.supplyAsync(() -> read(process), pipes);
        try {
            if (!process.waitFor(limit.toMillis(), TimeUnit.MILLISECONDS)) {
                kill(process);
                return new Delivery.TryAgain(
                        "it did not end within " + limit.toSeconds() + " s and was killed",
                        Duration.ZERO);
            }
            // A child that it left behind may hold the pipe open: what is there is enough.
            String words = printed.completeOnTimeout("", 1, TimeUnit.SECONDS).join();
            return judge(process.exitValue(), words);
        } catch (InterruptedException e) {
            kill(process);
            Thread.currentThread().interrupt();
            return new Delivery.TryAgain("interrupted", Duration.ZERO);
        } finally {
            closeQuietly(process);
        }
    }

    private static Delivery judge(int code, String printed) {
        String words = "ended with " + code + (printed.isBlank() ? "" : ": " + printed);
        if (code == 0) {
            return new Delivery.Delivered(words);
        }
        return REFUSALS.contains(code)
                ? new Delivery.Refused(words)
                : new Delivery.TryAgain(
                        code == TEMPORARY_FAILURE ? words + " (try again)" : words, Duration.ZERO);
    }

    private static void write(Process process, byte[] octets) {
        try (OutputStream out = process.getOutputStream()) {
            out.write(octets);
        } catch (IOException e) {
            // It did not read all of it; how it ended says whether that mattered.
            System.getLogger(ProgramChannel.class.getName())
                    .log(System.Logger.Level.DEBUG, "a program did not read its notice", e);
        }
    }

    /** Reads to the end, so that the program is not stopped by a full pipe; keeps the first. */
    private static String read(Process process) {
        try (InputStream in = process.getInputStream()) {
            byte[] first = in.readNBytes(OUTPUT_OCTETS_MAX);
            byte[] rest = new byte[OUTPUT_OCTETS_MAX];
            while (in.read(rest) >= 0) {
                // Dropped.
            }
            return PlainLine.of(new String(first, StandardCharsets.UTF_8), WORDS_MAX);
        } catch (IOException e) {
            return "";
        }
    }

    private static void kill(Process process) {
        process.descendants().forEach(ProcessHandle::destroyForcibly);
        process.destroyForcibly();
    }

    private static void closeQuietly(Process process) {
        try {
            process.getInputStream().close();
        } catch (IOException e) {
            System.getLogger(ProgramChannel.class.getName())
                    .log(System.Logger.Level.DEBUG, "closing a program's pipe", e);
        }
    }

    @Override
    public void close() {
        pipes.shutdownNow();
    }
}
