package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.agent.Snapshots;
import io.evenwarm.agent.app.AgentConfiguration.WatchdogPlan;
import io.evenwarm.agent.driver.watchdog.ServiceManager;
import io.evenwarm.agent.testing.NotifySocket;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.FindingCode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

@Timeout(30)
final class OutsideWatchTest {

    private static final CabinetSnapshot NORTH = Snapshots.healthy("north", 1, true);
    private static final CabinetSnapshot SOUTH = Snapshots.healthy("south", 1, true);

    @TempDir private Path folder;

    private byte[] written(boolean disarmAtCleanEnd, boolean isClean) throws IOException {
        Path device = Files.createFile(folder.resolve(disarmAtCleanEnd + "-" + isClean));
        OutsideWatch watch =
                new OutsideWatch(
                        ServiceManager.none(),
                        Optional.of(new WatchdogPlan(device, disarmAtCleanEnd)));
        watch.start();
        watch.tickCompleted();
        watch.end(isClean);
        watch.tickCompleted();
        watch.end(isClean);
        return Files.readAllBytes(device);
    }

    @Test
    void onlyACleanEndDisarmsTheDeviceAndOnlyWhereThatWasAskedFor() throws IOException {
        assertArrayEquals(new byte[] {0, 'V'}, written(true, true));
        assertArrayEquals(new byte[] {0}, written(true, false));
        assertArrayEquals(new byte[] {0}, written(false, true));
        assertArrayEquals(new byte[] {0}, written(false, false));
    }

    @Test
    void aDeviceThatIsNotThereKeepsNothingFromRunning() {
        OutsideWatch watch =
                new OutsideWatch(
                        ServiceManager.none(),
                        Optional.of(new WatchdogPlan(folder.resolve("none"), true)));
        watch.start();
        watch.tickCompleted();
        watch.close();
    }

    @Test
    void theServiceManagerIsToldWhatTheCabinetsAreLikeWhenThatChanges() throws IOException {
        try (NotifySocket there = NotifySocket.bind(folder.resolve("notify").toString());
                OutsideWatch watch =
                        new OutsideWatch(
                                ServiceManager.of(Map.of("NOTIFY_SOCKET", there.name()), 1),
                                Optional.empty())) {
            watch.published(NORTH);
            watch.published(SOUTH);
            watch.tickCompleted();
            assertEquals(
                    Optional.of("STATUS=north: heat allowed; south: heat allowed"),
                    there.receive(5000));
            assertEquals(Optional.of("READY=1"), there.receive(5000));

            watch.published(NORTH);
            watch.published(SOUTH);
            watch.tickCompleted();
            assertEquals(Optional.empty(), there.receive(50), "nothing changed");

            for (long raisedAt = 2; raisedAt < 4; raisedAt++) {
                watch.published(
                        Snapshots.with(
                                SOUTH, List.of(Snapshots.finding(FindingCode.TOO_WARM, raisedAt))));
                watch.tickCompleted();
            }
            assertEquals(
                    Optional.of("STATUS=north: heat allowed; south: heat allowed, too-warm (top)"),
                    there.receive(5000));
            assertEquals(Optional.empty(), there.receive(50), "the same trouble");
        }
    }
}
