package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.agent.testing.VirtualRun;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayDeque;
import java.util.List;
import java.util.Queue;
import java.util.logging.Level;
import java.util.logging.Logger;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/**
 * Whoever listens to a cabinet, and however they fail, its lines are driven the same: traces of
 * every drive over some eventful hours are compared by their SHA-256. The same with the real
 * journal and links is tested where those are.
 */
final class SameOutputsTest {

    private static final long SEED = 7;
    private static final Logger QUIET = Logger.getLogger("io.evenwarm.agent.loop");

    @BeforeAll
    static void hush() {
        QUIET.setLevel(Level.OFF);
    }

    @AfterAll
    static void speakAgain() {
        QUIET.setLevel(null);
    }

    private static String traceWith(long seed, SnapshotListener... listeners) {
        VirtualRun run =
                new VirtualRun(
                        Plans.threeProbes(),
                        CabinetBuild.ofVolume(250, 1.0, 3),
                        seed,
                        List.of(listeners));
        run.hours(2);
        run.cabinet().inject(new PlantFault.BusErrors(0.2));
        run.cabinet().inject(new PlantFault.DoorOpen());
        run.hours(0.2);
        run.cabinet().clear(new PlantFault.DoorOpen());
        run.hours(0.5);
        run.cabinet().inject(new PlantFault.BusHang());
        run.hours(0.1);
        run.cabinet().clear(new PlantFault.BusHang());
        run.hours(1);
        assertTrue(run.trace().heaterOnDrives() > 1000, "nothing happened");
        return run.trace().sha256();
    }

    @Test
    void listenersThatFailChangeNoOutput() {
        String alone = traceWith(SEED);
        assertEquals(alone, traceWith(SEED), "one seed, one run");
        assertNotEquals(alone, traceWith(SEED + 1), "the trace must tell runs apart");

        SnapshotListener deadJournal =
                snapshot -> {
                    throw new IllegalStateException("the journal is dead");
                };
        Queue<Object> fullDisk = new ArrayDeque<>();
        SnapshotListener backlog =
                snapshot -> {
                    fullDisk.add(snapshot);
                    if (fullDisk.size() > 100) {
                        fullDisk.clear();
                        throw new UncheckedIOException(new IOException("No space left on device"));
                    }
                };
        SnapshotListener lostLink =
                snapshot -> {
                    if (snapshot.tick() > 600) {
                        throw new IllegalStateException("the link is lost");
                    }
                };
        assertEquals(alone, traceWith(SEED, deadJournal));
        assertEquals(alone, traceWith(SEED, backlog));
        assertEquals(alone, traceWith(SEED, lostLink));
        assertEquals(alone, traceWith(SEED, deadJournal, backlog, lostLink));
        System.out.println("whole-6 output trace of seed " + SEED + ": sha256 " + alone);
    }
}
