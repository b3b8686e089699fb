package io.evenwarm.agent.driver.watchdog;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.testing.NotifySocket;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** The messages are those of sd_notify(3); the variables those of sd_watchdog_enabled(3). */
@Timeout(30)
final class ServiceManagerTest {

    private static final long PID = 4711;

    @TempDir private Path folder;
    private NotifySocket there;

    @BeforeEach
    void listen() throws IOException {
        there = NotifySocket.bind(folder.resolve("notify").toString());
    }

    @AfterEach
    void close() throws IOException {
        there.close();
    }

    private ServiceManager manager(String micros, String pid) {
        return ServiceManager.of(
                Map.of("NOTIFY_SOCKET", there.name(), "WATCHDOG_USEC", micros, "WATCHDOG_PID", pid),
                PID);
    }

    private String next() throws IOException {
        return there.receive(5000).orElse("nothing");
    }

    @Test
    void itIsReadyWithTheFirstCompletedTickAndFedWithEachOne() throws IOException {
        try (ServiceManager manager = manager("5000000", "4711")) {
            assertEquals(Optional.of(Duration.ofSeconds(5)), manager.watchdogLimit());
            assertEquals(Optional.empty(), there.receive(50), "not before a tick");
            manager.tickCompleted();
            manager.tickCompleted();
            manager.tickCompleted();
            assertEquals("READY=1\nWATCHDOG=1", next());
            assertEquals("WATCHDOG=1", next());
            assertEquals("WATCHDOG=1", next());
            assertEquals(Optional.empty(), there.receive(50), "no timer feeds it");
            manager.status("north: heat allowed\nREADY=0");
            assertEquals("STATUS=north: heat allowed READY=0", next());
            manager.stopping();
            assertEquals("STOPPING=1", next());
        }
    }

    @Test
    void withoutAWatchdogItIsOnlyReady() throws IOException {
        try (ServiceManager manager =
                ServiceManager.of(Map.of("NOTIFY_SOCKET", there.name()), PID)) {
            assertTrue(manager.isThere());
            manager.tickCompleted();
            manager.tickCompleted();
            assertEquals("READY=1", next());
            assertEquals(Optional.empty(), there.receive(50));
        }
    }

    @Test
    void anotherProcessesWatchdogIsNotFed() throws IOException {
        try (ServiceManager manager = manager("5000000", "4712")) {
            assertEquals(Optional.empty(), manager.watchdogLimit());
            manager.tickCompleted();
            assertEquals("READY=1", next());
        }
    }

    @Test
    void aLimitThatIsNoNumberIsNone() {
        try (ServiceManager manager = manager("five seconds", "4711")) {
            assertEquals(Optional.empty(), manager.watchdogLimit());
        }
    }

    @Test
    void readyIsSaidAgainUntilItGotThrough() throws IOException {
        try (ServiceManager manager = manager("5000000", "4711")) {
            there.close();
            manager.tickCompleted();
            there = NotifySocket.bind(there.name());
            manager.tickCompleted();
            assertEquals("READY=1\nWATCHDOG=1", next());
        }
    }

    @Test
    void whereNobodyListensOrTheNameIsWrongNothingHappens() {
        for (ServiceManager manager :
                new ServiceManager[] {
                    ServiceManager.none(),
                    ServiceManager.of(Map.of(), PID),
                    ServiceManager.of(Map.of("NOTIFY_SOCKET", "vsock:2:1234"), PID)
                }) {
            assertFalse(manager.isThere());
            manager.tickCompleted();
            manager.status("unheard");
            manager.stopping();
            manager.close();
        }
    }

    @Test
    void afterTheEndNothingIsSentAndNothingThrown() throws IOException {
        ServiceManager manager = manager("5000000", "4711");
        manager.close();
        manager.tickCompleted();
        assertEquals(Optional.empty(), there.receive(50));
        manager.close();
    }
}
