package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.Journal;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A store that is looked after from outside while its monitor writes. */
final class StoreFileTest {

    private static final AgentName AGENT = new AgentName("egg room");

    private final Path folder;

    StoreFileTest(@TempDir Path folder) {
        this.folder = folder;
    }

    @Test
    void aCopyOfALiveStoreIsSoundAndHoldsAllThatWasAcknowledgedBefore()
            throws IOException, InterruptedException {
        Path copies = Files.createDirectory(folder.resolve("copies"));
        AtomicBoolean isDone = new AtomicBoolean();
        AtomicReference<Throwable> failure = new AtomicReference<>();
        try (HistoryStore store = HistoryStore.open(folder)) {
            Thread writer =
                    new Thread(
                            () -> {
                                try {
                                    Journal journal = new Journal();
                                    for (int i = 1; !isDone.get(); i++) {
                                        journal.top(5 * i, 31 + i % 16 / 16.0);
                                        store.append(AGENT, "j", journal.take());
                                    }
                                } catch (StoreException | RuntimeException e) {
                                    failure.set(e);
                                }
                            });
            writer.start();
            for (int copy = 1; copy <= 5; copy++) {
                long before = store.lastSequence(AGENT, "j");
                Path into = Files.createDirectory(copies.resolve("copy " + copy));
                new StoreFile(folder).copyTo(into.resolve(HistoryStore.FILE_NAME));
                StoreReport report = new StoreFile(into).check();
                assertTrue(report.isSound(), report.words().toString());
                try (HistoryStore opened = HistoryStore.open(into)) {
                    long copied = opened.lastSequence(AGENT, "j");
                    assertTrue(copied >= before, copied + " of " + before);
                }
            }
            StoreReport live = new StoreFile(folder).check();
            assertTrue(live.isSound(), live.words().toString());
            isDone.set(true);
            writer.join();
        }
        assertEquals(null, failure.get());
    }

    @Test
    void aCopyNeverReplacesAFile() throws IOException {
        HistoryStore.open(folder).close();
        Path target = folder.resolve("there.sqlite");
        Files.writeString(target, "mine");
        StoreException refused =
                assertThrows(StoreException.class, () -> new StoreFile(folder).copyTo(target));
        assertEquals(
                target + " is there already: name another file, or move that one away",
                refused.getMessage());
        assertEquals("mine", Files.readString(target));
    }

    @Test
    void aCopyThatCannotBeWrittenLeavesNothing() throws IOException {
        HistoryStore.open(folder).close();
        Path target = folder.resolve("no such folder").resolve("copy.sqlite");
        StoreException refused =
                assertThrows(StoreException.class, () -> new StoreFile(folder).copyTo(target));
        assertTrue(
                String.valueOf(refused.getMessage()).startsWith("can't copy "), refused::toString);
        assertFalse(Files.exists(target));
    }

    @Test
    void aFolderWithoutAStoreIsSaid() {
        StoreException refused =
                assertThrows(StoreException.class, () -> new StoreFile(folder).check());
        assertEquals(
                "there is no store "
                        + folder.resolve(HistoryStore.FILE_NAME)
                        + ": is data_folder in the settings the right one? A monitor makes it when"
                        + " it first runs",
                refused.getMessage());
    }

    @Test
    void damageIsFoundAndNamed() throws IOException {
        try (HistoryStore store = HistoryStore.open(folder)) {
            Journal journal = new Journal();
            for (int i = 1; i <= 5000; i++) {
                journal.top(5 * i, 31);
            }
            store.append(AGENT, "j", journal.take());
        }
        Path file = folder.resolve(HistoryStore.FILE_NAME);
        byte[] bytes = Files.readAllBytes(file);
        Arrays.fill(bytes, bytes.length / 2, bytes.length / 2 + 9000, (byte) 0x55);
        Files.write(file, bytes);
        try {
            StoreReport report = new StoreFile(folder).check();
            assertFalse(report.isSound());
            assertFalse(report.words().isEmpty());
        } catch (StoreException found) {
            assertTrue(
                    String.valueOf(found.getMessage()).contains("it is damaged"), found::toString);
        }
    }
}
