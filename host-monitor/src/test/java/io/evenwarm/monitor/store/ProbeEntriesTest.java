package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.evenness.Estimate;
import io.evenwarm.monitor.evenness.ProbeEntry;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.history.CabinetKey;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The record of probes is kept while a monitor has the store open. */
class ProbeEntriesTest {

    private static final CabinetKey NORTH =
            new CabinetKey(new AgentName("egg room"), Journal.NORTH);
    private static final ProbeName TOP = new ProbeName("top");

    private final Path folder;
    private final HistoryStore store;
    private final StoreOutside outside;

    ProbeEntriesTest(@TempDir Path folder) throws StoreException {
        this.folder = folder;
        store = open(folder.resolve("store"));
        outside = outside(folder.resolve("store"));
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

    static ProbeEntry entry(double second, ProbeEntry.Kind kind, Optional<Estimate> offset) {
        return new ProbeEntry(
                NORTH,
                TOP,
                Journal.at(second),
                kind,
                offset.isEmpty() ? "" : "mercury glass no. 17",
                offset);
    }

    @Test
    void whatWasFoundOfAProbeIsReadBackToTheLastDigitTheOldestFirst() throws StoreException {
        assertEquals(ProbeRecord.EMPTY, outside.probeRecord());
        ProbeEntry check =
                entry(
                        60,
                        ProbeEntry.Kind.SIDE_BY_SIDE,
                        Optional.of(new Estimate(-0.1234567890123, 0.0271828, 9.5)));
        ProbeEntry ice =
                entry(
                        10,
                        ProbeEntry.Kind.ICE_POINT,
                        Optional.of(new Estimate(0.25, 0.02, Double.POSITIVE_INFINITY)));
        ProbeEntry exchanged = entry(90, ProbeEntry.Kind.EXCHANGED, Optional.empty());
        outside.addProbeEntries(List.of(check, exchanged));
        outside.addProbeEntries(List.of(ice));
        assertEquals(List.of(ice, check, exchanged), outside.probeRecord().entries());
    }

    @Test
    void theNewestTimeSaidIsSinceWhenTheAirFlowIsLearned() throws StoreException {
        assertEquals(Optional.empty(), outside.flowBegin(NORTH));
        outside.addFlowBegin(NORTH, Journal.at(50), "new fan");
        outside.addFlowBegin(NORTH, Journal.at(20), "a shelf more");
        assertEquals(Optional.of(Journal.at(50)), outside.flowBegin(NORTH));
    }

    @Test
    void anArchiveTakesTheRecordAlong() throws IOException {
        outside.addProbeEntries(
                List.of(
                        entry(
                                60,
                                ProbeEntry.Kind.SIDE_BY_SIDE,
                                Optional.of(new Estimate(0.1, 0.02, 12)))));
        outside.addFlowBegin(NORTH, Journal.at(50), "new fan");
        Path archive = folder.resolve("all.zip");
        outside.exportAll(archive);
        Path other = folder.resolve("other");
        try (HistoryStore taken = HistoryStore.open(other)) {
            assertEquals(2, taken.importAll(archive));
        }
        StoreOutside there = new StoreFile(other);
        assertEquals(outside.probeRecord(), there.probeRecord());
        assertEquals(Optional.of(Journal.at(50)), there.flowBegin(NORTH));
    }
}
