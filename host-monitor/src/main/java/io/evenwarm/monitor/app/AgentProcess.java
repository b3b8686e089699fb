package io.evenwarm.monitor.app;

import io.evenwarm.link.KeyPin;
import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/**
 * An agent in a process of its own, that ends when its standard input does: so it ends with this
 * process, however that ends.
 */
final class AgentProcess {

    /** In the order of what is asked of it: first politely, then by signal, then for good. */
    private static final long END_MILLIS_MAX = 1200;

    private static final long SIGNAL_MILLIS_MAX = 400;
    private static final long READY_SECONDS_MAX = 20;
    private static final int LAST_WORDS_LINES = 8;

    private static final Pattern PORT = Pattern.compile("\"tlsPort\"\\s*:\\s*(\\d{1,5})");
    private static final Pattern KEY =
            Pattern.compile("\"tlsKey\"\\s*:\\s*\"(sha256:[0-9a-f]{64})\"");

    /** Where a started agent listens, as it says itself. */
    record Announcement(int port, KeyPin key) {}

    private final Process process;
    private final Path log;
    private final CompletableFuture<Announcement> announcement = new CompletableFuture<>();
    private volatile boolean isStopping;

    private AgentProcess(Process process, Path log) {
        this.process = process;
        this.log = log;
    }

    /**
     * Starts one.
     *
     * @param program the agent's start script
     * @param configuration its configuration file
     * @param log gets what it writes to standard error
     */
    static AgentProcess start(Path program, Path configuration, Path log) throws IOException {
        ProcessBuilder builder =
                new ProcessBuilder(
                        program.toString(),
                        "run",
                        "--config",
                        configuration.toString(),
                        "--announce",
                        "--end-with-input");
        builder.redirectError(log.toFile());
        AgentProcess agent = new AgentProcess(builder.start(), log);
        Thread reader = new Thread(agent::readOutput, "agent output");
        reader.setDaemon(true);
        reader.start();
        return agent;
    }

    /** The first line is the announcement; the rest is read so that the agent never waits. */
    private void readOutput() {
        try (BufferedReader lines = process.inputReader(StandardCharsets.UTF_8)) {
            for (String line = lines.readLine(); line != null; line = lines.readLine()) {
                if (!announcement.isDone()) {
                    announce(line);
                }
            }
        } catch (IOException ended) {
            // The pipe went with the process.
            announcement.completeExceptionally(ended);
        }
        announcement.completeExceptionally(new IOException("it ended before it was ready"));
    }

    private void announce(String line) {
        Matcher port = PORT.matcher(line);
        Matcher key = KEY.matcher(line);
        if (port.find() && key.find()) {
            announcement.complete(
                    new Announcement(Integer.parseInt(port.group(1)), KeyPin.parse(key.group(1))));
        }
    }

    /**
     * Waits until it is ready.
     *
     * @throws IOException when it is not within {@value #READY_SECONDS_MAX} s
     */
    Announcement awaitReady() throws IOException {
        try {
            return announcement.get(READY_SECONDS_MAX, TimeUnit.SECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IOException("interrupted", e);
        } catch (TimeoutException e) {
            throw new IOException("the agent was not ready within " + READY_SECONDS_MAX + " s", e);
        } catch (ExecutionException e) {
            throw new IOException("the agent did not start", e);
        }
    }

    /** Calls back when it ends by itself. */
    void onUnexpectedEnd(java.util.function.Consumer<String> words) {
        CompletableFuture<@Nullable Void> watched =
                process.onExit()
                        .thenAccept(
                                ended -> {
                                    if (!isStopping) {
                                        words.accept(endedWords(ended.exitValue()));
                                    }
                                });
        // Nothing waits for the watching itself.
        watched.exceptionally(failure -> null);
    }

    private String endedWords(int exitCode) {
        String words = "The agent ended by itself, with exit code " + exitCode + ".";
        List<String> last = lastWords();
        return last.isEmpty() ? words : words + " Its last words:\n  " + String.join("\n  ", last);
    }

    private List<String> lastWords() {
        try {
            List<String> all = Files.readAllLines(log);
            return all.subList(Math.max(0, all.size() - LAST_WORDS_LINES), all.size());
        } catch (IOException unreadable) {
            return List.of();
        }
    }

    /** Ends it, within about two seconds whatever it does. */
    void stop() {
        isStopping = true;
        try {
            process.getOutputStream().close();
        } catch (IOException alreadyGone) {
            // Then it has ended or is about to.
        }
        try {
            if (process.waitFor(END_MILLIS_MAX, TimeUnit.MILLISECONDS)) {
                return;
            }
            process.destroy();
            if (process.waitFor(SIGNAL_MILLIS_MAX, TimeUnit.MILLISECONDS)) {
                return;
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        process.destroyForcibly();
    }
}
