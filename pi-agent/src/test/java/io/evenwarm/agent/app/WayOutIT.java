package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Evidence whole-4, second half: the ways out of an agent whose lines live in another process,
 * which keeps the last level when the agent dies, as a Pi's kernel does. Prints the figures.
 */
@Timeout(value = 3, unit = TimeUnit.MINUTES)
final class WayOutIT {

    private static final long MOST_MILLIS = 10_000;
    private static final MonotonicClock CLOCK = SystemClock.monotonic();

    @TempDir private Path folder;
    private Path log;

    @BeforeEach
    void makeLog() throws IOException {
        log = Files.createFile(folder.resolve("agent.log"));
    }

    /** What a service manager does: starts the agent, and after its death runs ExecStopPost. */
    private static CompletableFuture<AgentProcess> serviceManager(
            AgentProcess agent, Path config, Path log) {
        return agent.process()
                .onExit()
                .thenApply(
                        ended -> {
                            try {
                                return AgentProcess.start(
                                        log, "outputs-off", "--config", config.toString());
                            } catch (IOException e) {
                                throw new IllegalStateException(e);
                            }
                        });
    }

    @Test
    void whenAnAgentIsKilledTheServiceManagerDrivesItsLinesOff() throws Exception {
        try (AgentProcess kernel = kernel();
                AgentProcess agent = heatingAgent()) {
            CompletableFuture<AgentProcess> stopPost = serviceManager(agent, config(), log);
            agent.kill();
            long killedAt = CLOCK.nanos();
            while (isAnyLineOn() && millisSince(killedAt) < MOST_MILLIS) {
                Thread.sleep(10);
            }
            long millis = millisSince(killedAt);
            assertTrue(!isAnyLineOn(), "still on after " + millis + " ms\n" + agent.log());
            assertEquals(ExitCode.DONE, stopPost.get(1, TimeUnit.MINUTES).end());
            assertTrue(kernel.process().isAlive());
            System.out.println(
                    "whole-4 agent killed with its heater on: all lines off after "
                            + millis
                            + " ms by the service manager's stand-in");
        }
    }

    /** The same without the stand-in: what it is for, and that the test above can fail. */
    @Test
    void withoutTheServiceManagerAKilledAgentLeavesItsHeaterOn() throws Exception {
        try (AgentProcess kernel = kernel();
                AgentProcess agent = heatingAgent()) {
            agent.kill();
            Thread.sleep(MOST_MILLIS);
            assertTrue(isOn("heater"), "the kernel keeps the level");
            assertTrue(isOn("cut-off"));
            assertTrue(kernel.process().isAlive());
            System.out.println(
                    "whole-4 agent killed with its heater on, no stand-in: heater still on after "
                            + MOST_MILLIS
                            + " ms");
        }
    }

    @Test
    void anAgentThatIsToldToEndDrivesItsLinesOffItself() throws Exception {
        try (AgentProcess kernel = kernel();
                AgentProcess agent = heatingAgent()) {
            long toldAt = CLOCK.nanos();
            int code = agent.terminate();
            long millis = millisSince(toldAt);
            assertTrue(!isAnyLineOn(), agent.log());
            // 128 + SIGTERM: Java's own way to end by a signal, after its shutdown hooks.
            assertEquals(143, code);
            assertTrue(kernel.process().isAlive());
            System.out.println(
                    "whole-4 agent told to end (SIGTERM): all lines off by itself, gone after "
                            + millis
                            + " ms");
        }
    }

    @Test
    void anAgentWhoseStarterGoesAwayEndsWithItsLinesOff() throws Exception {
        try (AgentProcess kernel = kernel();
                AgentProcess agent = heatingAgent("--end-with-input")) {
            agent.process().getOutputStream().close();
            assertEquals(ExitCode.DONE, agent.end());
            assertTrue(!isAnyLineOn(), agent.log());
            assertTrue(kernel.process().isAlive());
        }
    }

    @Test
    void aNewAgentTakesOverLinesThatAKilledOneLeftOnAndStartsWithThemOff() throws Exception {
        try (AgentProcess kernel = kernel();
                AgentProcess agent = heatingAgent()) {
            agent.kill();
            assertTrue(isOn("heater"));
            try (AgentProcess next =
                    AgentProcess.start(log, "run", "--announce", "--config", config().toString())) {
                next.line();
                // Ready, but no probe has been good for long enough yet.
                assertTrue(!isOn("heater"), next.log());
                awaitHeater();
                next.terminate();
            }
            assertTrue(!isAnyLineOn());
            assertTrue(kernel.process().isAlive());
        }
    }

    private AgentProcess kernel() throws IOException {
        AgentProcess kernel =
                AgentProcess.start(log, "simulate", "--announce", "--folder", kernelFolder());
        kernel.line();
        return kernel;
    }

    private String kernelFolder() {
        return folder.resolve("kernel").toString();
    }

    private Path config() {
        return folder.resolve("kernel").resolve("agent.toml");
    }

    private AgentProcess heatingAgent(String... more) throws Exception {
        String[] arguments = new String[more.length + 3];
        arguments[0] = "run";
        arguments[1] = "--config";
        arguments[2] = config().toString();
        System.arraycopy(more, 0, arguments, 3, more.length);
        AgentProcess agent = AgentProcess.start(log, arguments);
        awaitHeater();
        return agent;
    }

    private void awaitHeater() throws Exception {
        long since = CLOCK.nanos();
        while (!isOn("heater")) {
            if (millisSince(since) > 60_000) {
                throw new IllegalStateException(
                        "no heat within a minute\n" + Files.readString(log));
            }
            Thread.sleep(20);
        }
    }

    private boolean isAnyLineOn() throws IOException {
        return isOn("heater") || isOn("cut-off") || isOn("fan") || isOn("buzzer");
    }

    private boolean isOn(String line) throws IOException {
        Path brightness =
                folder.resolve("kernel").resolve("leds").resolve(line).resolve("brightness");
        return Files.readString(brightness).strip().equals("1");
    }

    private static long millisSince(long sinceNanos) {
        return (CLOCK.nanos() - sinceNanos) / 1_000_000;
    }
}
