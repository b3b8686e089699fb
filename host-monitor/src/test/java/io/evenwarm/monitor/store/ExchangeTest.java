package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.ImportCount;
import io.evenwarm.monitor.history.JournalPosition;
import io.evenwarm.monitor.history.ReadingFilter;
import io.evenwarm.monitor.history.StoredReading;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Readings and whole stores go out and come in, from either kind of store into either. */
class ExchangeTest {

    private static final AgentName AGENT = new AgentName("egg room");
    private static final CabinetKey NORTH = new CabinetKey(AGENT, Journal.NORTH);
    private static final TimeSpan ALL = new TimeSpan(Instant.EPOCH, Journal.at(1e9));
    private static final ReadingFilter EVERY =
            new ReadingFilter(Optional.empty(), Optional.empty(), ALL);

    private final Path folder;
    private final Path elsewhere;
    private final HistoryStore store;

    ExchangeTest(@TempDir Path folder, @TempDir Path elsewhere) throws StoreException {
        this.folder = folder;
        this.elsewhere = elsewhere;
        store = open(folder);
    }

    HistoryStore open(Path at) throws StoreException {
        return HistoryStore.open(at);
    }

    StoreOutside outside(Path at) {
        return new StoreFile(at);
    }

    @AfterEach
    void close() {
        store.close();
    }

    private void fill() throws StoreException {
        Journal journal = new Journal();
        for (int i = 1; i <= 300; i++) {
            journal.readings(
                    5 * i,
                    i % 3 == 0 ? new CabinetName("south") : Journal.NORTH,
                    0.25,
                    i % 50 == 0
                            ? Journal.bad("top", ProbePlace.TOP, Reading.Doubt.CHECKSUM)
                            : Journal.good("top", ProbePlace.TOP, 31 + i / 1000.0));
        }
        journal.raised(1600, FindingCode.TOO_COLD, "air 30.1 °C, \"cold\"\nsecond line");
        store.append(AGENT, "j1", journal.take());
    }

    private List<StoredReading> readings(Path at, ReadingFilter filter) throws IOException {
        List<StoredReading> found = new ArrayList<>();
        outside(at).exportReadings(filter, found::add);
        return found;
    }

    @Test
    void readingsThatWentOutComeInOnceAndTiersWithThem() throws IOException {
        fill();
        List<StoredReading> out = readings(folder, EVERY);
        assertEquals(300, out.size());
        try (HistoryStore other = open(elsewhere)) {
            ImportCount first =
                    other.importReadings(
                            sink -> {
                                for (StoredReading reading : out) {
                                    sink.accept(reading);
                                }
                            });
            assertEquals(new ImportCount(300, 0), first);
            assertEquals(
                    new ImportCount(0, 300),
                    other.importReadings(
                            sink -> {
                                for (StoredReading reading : out) {
                                    sink.accept(reading);
                                }
                            }));
            assertEquals(
                    store.summaries(NORTH, ALL, Tier.HOUR).get(0).summaries().mean(0),
                    other.summaries(NORTH, ALL, Tier.HOUR).get(0).summaries().mean(0));
            assertTrue(other.check().isSound(), other.check().words().toString());
            assertEquals(
                    store.extent(NORTH).orElseThrow().from(),
                    other.extent(NORTH).orElseThrow().from());
            assertEquals(1, other.curves(NORTH, ALL).probes().size());
        }
        assertEquals(out, readings(elsewhere, EVERY));
    }

    @Test
    void anImportIsNoJournalOfTheAgents() throws IOException {
        fill();
        List<StoredReading> out = readings(folder, EVERY);
        StoredReading first = out.get(0);
        StoredReading later =
                new StoredReading(
                        first.key(),
                        first.probe(),
                        first.place(),
                        first.unit(),
                        Journal.at(9000).toEpochMilli(),
                        first.value(),
                        first.doubt());
        assertEquals(new ImportCount(1, 0), store.importReadings(sink -> sink.accept(later)));
        assertEquals(Optional.of(new JournalPosition("j1", 301)), store.newestJournal(AGENT));
    }

    @Test
    void aSourceThatBreaksStoresNothing() throws IOException {
        fill();
        List<StoredReading> out = readings(folder, EVERY);
        try (HistoryStore other = open(elsewhere)) {
            IOException broken =
                    assertThrows(
                            IOException.class,
                            () ->
                                    other.importReadings(
                                            sink -> {
                                                sink.accept(out.get(0));
                                                throw new IOException("the stick was pulled out");
                                            }));
            assertEquals("the stick was pulled out", broken.getMessage());
            assertEquals(List.of(), other.cabinets());
        }
    }

    @Test
    void aFilterGivesOnlyWhatWasAskedFor() throws IOException {
        fill();
        CabinetName south = new CabinetName("south");
        TimeSpan early = new TimeSpan(Journal.at(0), Journal.at(100));
        List<StoredReading> found =
                readings(folder, new ReadingFilter(Optional.of(AGENT), Optional.of(south), early));
        assertEquals(6, found.size());
        assertEquals(
                List.of(),
                readings(
                        folder,
                        new ReadingFilter(
                                Optional.of(new AgentName("shed")), Optional.empty(), ALL)));
    }

    @Test
    void aWholeStoreComesBackFromItsArchive() throws IOException {
        fill();
        Path archive = elsewhere.resolve("all.zip");
        long rows = outside(folder).exportAll(archive);
        try (HistoryStore other = open(elsewhere)) {
            assertEquals(rows, other.importAll(archive));
            assertEquals(store.cabinets(), other.cabinets());
            assertEquals(301, other.lastSequence(AGENT, "j1"));
            assertEquals(
                    store.log(Optional.empty(), ALL, 10), other.log(Optional.empty(), ALL, 10));
            assertEquals(readings(folder, EVERY), readings(elsewhere, EVERY));
            assertTrue(other.check().isSound(), other.check().words().toString());
            // Numbers that are given out now must not meet those that came.
            Journal more = new Journal().afterSequence(301);
            more.readings(
                    2000, new CabinetName("west"), 0.1, Journal.good("new", ProbePlace.TOP, 30));
            other.append(AGENT, "j1", more.take());
            assertEquals(3, other.cabinets().size());
            StoreException refused =
                    assertThrows(StoreException.class, () -> other.importAll(archive));
            assertTrue(
                    String.valueOf(refused.getMessage()).contains(" is not empty"),
                    refused::toString);
        }
    }

    @Test
    void whatIsNoArchiveIsRefusedAndChangesNothing() throws IOException {
        fill();
        Path good = elsewhere.resolve("all.zip");
        outside(folder).exportAll(good);
        Path text = Files.writeString(elsewhere.resolve("notes.txt"), "a clutch of eleven");
        Path cut = elsewhere.resolve("cut.zip");
        byte[] bytes = Files.readAllBytes(good);
        Files.write(cut, Arrays.copyOf(bytes, bytes.length / 2));
        Path flipped = elsewhere.resolve("flipped.zip");
        bytes[bytes.length / 2] ^= 1;
        Files.write(flipped, bytes);
        Path newer = elsewhere.resolve("newer.zip");
        try (ZipOutputStream zip = new ZipOutputStream(Files.newOutputStream(newer))) {
            zip.putNextEntry(new ZipEntry("evenwarm-store.txt"));
            zip.write(
                    "evenwarm store archive 2\nschema version 9\n"
                            .getBytes(StandardCharsets.UTF_8));
        }
        try (HistoryStore other = open(elsewhere)) {
            for (Path wrong : List.of(text, cut, flipped, newer)) {
                IOException refused =
                        assertThrows(
                                IOException.class,
                                () -> other.importAll(wrong),
                                wrong.getFileName().toString());
                assertFalse(String.valueOf(refused.getMessage()).isEmpty());
                assertEquals(List.of(), other.cabinets(), wrong.toString());
            }
            other.importAll(good);
            assertEquals(2, other.cabinets().size());
        }
    }
}
