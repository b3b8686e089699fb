package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.notice.Contact;
import io.evenwarm.monitor.notice.NoticeJson;
import io.evenwarm.monitor.notice.NoticePlan;
import io.evenwarm.monitor.notice.NoticePriority;
import io.evenwarm.monitor.notice.Notices;
import io.evenwarm.monitor.notice.OutboxLimits;
import io.evenwarm.monitor.notice.Post;
import io.evenwarm.monitor.notice.Recipient;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.quantity.TemperatureUnit;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Duration;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Reports come out of real channels, by way of a real store, also after a restart. */
final class NoticeStationTest {

    private final Path folder;
    private final Path told;
    private final Path closed;
    private final NoticeSettings settings;

    NoticeStationTest(@TempDir Path folder) throws IOException {
        this.folder = folder;
        told = folder.resolve("told");
        Files.createFile(told);
        closed = folder.resolve("closed");
        Path script = folder.resolve("tell");
        Files.writeString(
                script,
                "#!/bin/sh\n[ -e '" + closed + "' ] && exit 75\nexec cat >> '" + told + "'\n");
        Files.setPosixFilePermissions(script, PosixFilePermissions.fromString("rwx------"));
        settings =
                new NoticeSettings(
                        new NoticePlan(
                                List.of(
                                        new Contact(
                                                new Recipient("anna", Optional.empty()),
                                                List.of("script"),
                                                Duration.ofMinutes(5),
                                                Optional.empty())),
                                Duration.ofMinutes(30),
                                OutboxLimits.USUAL),
                        List.of(
                                new ChannelSettings.Program(
                                        "script",
                                        List.of(script.toString()),
                                        Duration.ofSeconds(30))));
    }

    private NoticeStation start(HistoryStore store) throws IOException {
        return NoticeStation.start(
                settings,
                TemperatureUnit.CELSIUS,
                ZoneOffset.UTC,
                store.notices(),
                Post.Answering.BY_NO_LINK);
    }

    private List<String> told() {
        try {
            // The program may just be writing the last line.
            String whole = Files.readString(told);
            return whole.substring(0, whole.lastIndexOf('\n') + 1)
                    .lines()
                    .map(line -> NoticeJson.parse(line).eventId())
                    .toList();
        } catch (IOException e) {
            throw new AssertionError(e);
        }
    }

    @Test
    void aHundredEventsAtOnceAreAllToldOnce() throws IOException {
        try (HistoryStore store = HistoryStore.open(folder.resolve("data"));
                NoticeStation station = start(store)) {
            for (int i = 0; i < 100; i++) {
                station.desk()
                        .report(
                                "e" + i,
                                NoticePriority.HIGH,
                                List.of(Notices.cold("cabinet " + i)),
                                true,
                                false);
            }
            Waiting.until(60, () -> told().size() >= 100, () -> told().size() + " were told");
            Set<String> events = told().stream().collect(Collectors.toSet());
            assertEquals(100, events.size());
            assertEquals(100, told().size());
            Waiting.until(
                    10, () -> station.desk().health().pending() == 0, () -> "some still wait");
        }
    }

    @Test
    void whatDidNotGoOutGoesOutAfterARestartAndWhatWasAcknowledgedDoesNot() throws IOException {
        Files.createFile(closed);
        try (HistoryStore store = HistoryStore.open(folder.resolve("data"));
                NoticeStation station = start(store)) {
            for (String event : List.of("seen", "unseen")) {
                station.desk()
                        .report(
                                event,
                                NoticePriority.HIGH,
                                List.of(Notices.cold("a")),
                                true,
                                false);
            }
            assertTrue(station.desk().acknowledge("seen"));
            Waiting.until(
                    20, () -> station.desk().health().pending() <= 1, () -> "it is not dropped");
        }
        assertEquals(List.of(), told());
        Files.delete(closed);
        try (HistoryStore store = HistoryStore.open(folder.resolve("data"));
                NoticeStation station = start(store)) {
            Waiting.until(30, () -> told().size() == 1, () -> told().toString());
            Waiting.until(
                    10, () -> station.desk().health().pending() == 0, () -> "something waits");
        }
        assertEquals(List.of("unseen"), told());
    }
}
