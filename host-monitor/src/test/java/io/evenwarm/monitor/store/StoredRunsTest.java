package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.MonitorRun;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** When the monitor itself ran, and whether it was killed. */
final class StoredRunsTest {

    @Test
    void aKilledRunEndsWhenItLastSaidThatItLivedAndAnEndedOneAtItsEnd(@TempDir Path folder)
            throws IOException {
        try (HistoryStore store = HistoryStore.open(folder)) {
            StoredRuns runs = store.runs();
            long killed = runs.begin(Journal.at(0));
            runs.alive(killed, Journal.at(30));
            long ended = runs.begin(Journal.at(100));
            runs.alive(ended, Journal.at(130));
            runs.end(ended, Journal.at(140));
        }
        List<MonitorRun> runs = new StoreFile(folder).runs();
        assertEquals(
                List.of(
                        new MonitorRun(Journal.at(0), Journal.at(30), Optional.empty()),
                        new MonitorRun(
                                Journal.at(100), Journal.at(130), Optional.of(Journal.at(140)))),
                runs);
        assertEquals(Journal.at(30), runs.get(0).last());
        assertEquals(Journal.at(140), runs.get(1).last());
    }
}
