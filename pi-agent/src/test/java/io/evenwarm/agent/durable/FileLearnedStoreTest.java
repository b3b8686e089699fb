package io.evenwarm.agent.durable;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.port.Learned;
import io.evenwarm.message.CabinetName;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class FileLearnedStoreTest {

    private static final CabinetName NORTH = new CabinetName("north");
    private static final Learned OLD = learned(1.5);
    private static final Learned NEW = learned(2.5);

    @TempDir private Path folder;

    private static Learned learned(double value) {
        TreeMap<String, List<Double>> rows = new TreeMap<>();
        rows.put("heat.kelvin", List.of(value));
        rows.put("layers.away-0", List.of(0.0, -0.25, 1e-6, 8640.0));
        rows.put("layers.none", List.of());
        return new Learned("top at TOP", rows);
    }

    private Path file() {
        return CabinetFileNames.file(folder, "learned", NORTH, ".txt");
    }

    private Path setAside() {
        return CabinetFileNames.file(folder, "learned", NORTH, ".txt.set-aside");
    }

    @Test
    void whatWasLearnedIsFoundAgainAndOfNoOtherCabinet() throws IOException {
        FileLearnedStore store = new FileLearnedStore(folder);
        assertEquals(Optional.empty(), store.load(NORTH));
        store.save(NORTH, OLD);
        assertEquals(Optional.of(OLD), new FileLearnedStore(folder).load(NORTH));
        assertEquals(Optional.empty(), store.load(new CabinetName("south")));
        assertFalse(Files.exists(setAside()));
    }

    @Test
    void sevenDigitsAreKept() throws IOException {
        FileLearnedStore store = new FileLearnedStore(folder);
        store.save(NORTH, learned(Math.PI));
        double kept =
                store.load(NORTH)
                        .orElseThrow()
                        .rows()
                        .getOrDefault("heat.kelvin", List.of())
                        .get(0);
        assertEquals(Math.PI, kept, 2e-7);
    }

    @Test
    void aDamagedFileIsSetAsideAndLearningBeginsAnew() throws IOException {
        FileLearnedStore store = new FileLearnedStore(folder);
        store.save(NORTH, OLD);
        Files.writeString(file(), Files.readString(file()).replace("1.5", "9.5"));
        assertEquals(Optional.empty(), store.load(NORTH));
        assertFalse(Files.exists(file()));
        assertTrue(Files.readString(setAside()).contains("9.5"));
        store.save(NORTH, NEW);
        assertEquals(Optional.of(NEW), store.load(NORTH));
    }

    @Test
    void aFileOfAnotherCabinetIsSetAside() throws IOException {
        FileLearnedStore store = new FileLearnedStore(folder);
        CabinetName south = new CabinetName("south");
        store.save(south, OLD);
        Files.move(CabinetFileNames.file(folder, "learned", south, ".txt"), file());
        assertEquals(Optional.empty(), store.load(NORTH));
        assertTrue(Files.exists(setAside()));
    }

    @Test
    void aSoundFileWithNonsenseInItIsSetAsideToo() throws IOException {
        for (String line :
                List.of("heat.kelvin NaN", "heat.kelvin one", "Heat 1", "heat.kelvin 1 ")) {
            new NoteFile(SmallFiles.real(), file())
                    .write(List.of("evenwarm learned 1", "cabinet north", "about x", line));
            assertEquals(Optional.empty(), new FileLearnedStore(folder).load(NORTH), line);
            assertTrue(Files.deleteIfExists(setAside()), line);
        }
    }

    @Test
    void afterAnyFailureTheOldIsThereOrTheNew() throws IOException {
        boolean hasFailed = true;
        for (int change = 1; hasFailed; change++) {
            new FileLearnedStore(folder).save(NORTH, OLD);
            hasFailed = false;
            try {
                new FileLearnedStore(folder, new FailingFiles(change)).save(NORTH, NEW);
            } catch (IOException e) {
                hasFailed = true;
            }
            Learned found = new FileLearnedStore(folder).load(NORTH).orElseThrow();
            assertTrue(found.equals(NEW) || (hasFailed && found.equals(OLD)), "change " + change);
            assertTrue(change < 10);
        }
    }

    @Test
    void whatCanNotBeRenamedIsStillNotUsed() throws IOException {
        new FileLearnedStore(folder).save(NORTH, OLD);
        Files.writeString(file(), "cut short");
        FileLearnedStore failing = new FileLearnedStore(folder, new FailingFiles(1));
        assertEquals(Optional.empty(), failing.load(NORTH));
    }
}
