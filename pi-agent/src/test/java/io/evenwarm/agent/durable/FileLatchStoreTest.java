package io.evenwarm.agent.durable;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.port.Latch;
import io.evenwarm.message.CabinetName;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class FileLatchStoreTest {

    private static final CabinetName NORTH = new CabinetName("north");
    private static final Latch TRIPPED =
            new Latch.Tripped("probe top read 33.56 °C, cut-off at 33.50 °C");

    @TempDir private Path folder;

    @Test
    void theFirstStartOfACabinetIsClear() {
        assertEquals(new Latch.Clear(), new FileLatchStore(folder).load(NORTH));
    }

    @Test
    void aTripAndAResetAreFoundAgain() throws IOException {
        FileLatchStore store = new FileLatchStore(folder);
        store.save(NORTH, TRIPPED);
        assertEquals(TRIPPED, new FileLatchStore(folder).load(NORTH));
        store.save(NORTH, new Latch.Clear());
        assertEquals(new Latch.Clear(), new FileLatchStore(folder).load(NORTH));
    }

    @Test
    void aLatchFileThatIsGoneMeansTripped() throws IOException {
        new FileLatchStore(folder).load(NORTH);
        Files.delete(latchFile());
        Latch latch = new FileLatchStore(folder).load(NORTH);
        assertTrue(latch.trippedReason().orElseThrow().startsWith("latch file missing: "));
    }

    /** Each byte in turn flipped, and the file cut after each byte. */
    @Test
    void everyDamageMeansTripped() throws IOException {
        FileLatchStore store = new FileLatchStore(folder);
        store.save(NORTH, new Latch.Clear());
        Path file = latchFile();
        byte[] sound = Files.readAllBytes(file);
        for (int i = 0; i < sound.length; i++) {
            byte[] flipped = sound.clone();
            flipped[i] ^= 0x04;
            Files.write(file, flipped);
            assertInstanceOf(Latch.Tripped.class, store.load(NORTH), "byte " + i + " flipped");
            byte[] cut = Arrays.copyOf(sound, i);
            Files.write(file, cut);
            assertInstanceOf(Latch.Tripped.class, store.load(NORTH), "cut after " + i + " bytes");
        }
        Files.write(file, sound);
        assertEquals(new Latch.Clear(), store.load(NORTH));
    }

    @Test
    void aFolderInItsPlaceOrAHugeFileMeansTripped() throws IOException {
        FileLatchStore store = new FileLatchStore(folder);
        store.load(NORTH);
        Path file = latchFile();
        Files.delete(file);
        Files.createDirectory(file);
        assertTrue(
                store.load(NORTH)
                        .trippedReason()
                        .orElseThrow()
                        .startsWith("latch file unreadable: "));
        Files.delete(file);
        Files.write(file, new byte[SmallFiles.MAX_BYTES + 1]);
        assertInstanceOf(Latch.Tripped.class, store.load(NORTH));
    }

    @Test
    void anotherCabinetsFileMeansTripped() throws IOException {
        FileLatchStore store = new FileLatchStore(folder);
        store.load(NORTH);
        byte[] norths = Files.readAllBytes(latchFile());
        CabinetName south = new CabinetName("south");
        store.load(south);
        Files.write(CabinetFileNames.file(folder, "latch", south, ".txt"), norths);
        assertInstanceOf(Latch.Tripped.class, store.load(south));
    }

    /** The n-th change on the disk fails, for every n until none does. */
    @Test
    void atEveryPossibleFailureATripThatWasSavedIsNeverLostByOneThatWasNot() throws IOException {
        new FileLatchStore(folder).save(NORTH, TRIPPED);
        Latch other = new Latch.Tripped("another reason");
        int failing = 1;
        while (true) {
            try {
                new FileLatchStore(folder, new FailingFiles(failing)).save(NORTH, other);
                break;
            } catch (IOException e) {
                assertInstanceOf(
                        Latch.Tripped.class,
                        new FileLatchStore(folder).load(NORTH),
                        "change " + failing + " failed");
                failing++;
            }
        }
        assertEquals(4, failing, "write, rename, sync the folder");
        assertEquals(other, new FileLatchStore(folder).load(NORTH));
    }

    @Test
    void atEveryPossibleFailureOfTheFirstStartTheNextStartIsClearOrTripped() throws IOException {
        for (int failing = 1; failing <= 5; failing++) {
            Path own = Files.createDirectory(folder.resolve("run-" + failing));
            Latch first = new FileLatchStore(own, new FailingFiles(failing)).load(NORTH);
            assertEquals(new Latch.Clear(), first);
            assertEquals(new Latch.Clear(), new FileLatchStore(own).load(NORTH));
        }
    }

    @Test
    void namesOfAnyScriptAndLengthGetFilesOfTheirOwn() throws IOException {
        List<CabinetName> names =
                List.of(
                        new CabinetName("a b"),
                        new CabinetName("a_b"),
                        new CabinetName("卵".repeat(64)),
                        new CabinetName("卵".repeat(63)),
                        new CabinetName("x".repeat(64)));
        FileLatchStore store = new FileLatchStore(folder);
        for (CabinetName name : names) {
            store.save(name, new Latch.Tripped("of " + name));
        }
        for (CabinetName name : names) {
            assertEquals(new Latch.Tripped("of " + name), store.load(name));
        }
    }

    @Test
    void aReasonOfSeveralLinesStaysOne() throws IOException {
        FileLatchStore store = new FileLatchStore(folder);
        store.save(NORTH, new Latch.Tripped("one\nstate clear\r\nthree"));
        assertEquals(new Latch.Tripped("one state clear three"), store.load(NORTH));
    }

    @Test
    void theFileIsTextThatAPersonCanRead() throws IOException {
        new FileLatchStore(folder).save(NORTH, TRIPPED);
        String text = Files.readString(latchFile(), StandardCharsets.UTF_8);
        assertTrue(
                text.startsWith(
                        "evenwarm latch 1\ncabinet north\nstate tripped\n"
                                + "reason probe top read 33.56 °C, cut-off at 33.50 °C\ncrc32c "),
                text);
        assertNotEquals(-1, text.indexOf("crc32c"));
    }

    @Test
    void nothingUnfinishedIsLeftBehind() throws IOException {
        new FileLatchStore(folder).save(NORTH, TRIPPED);
        try (Stream<Path> files = Files.list(folder)) {
            assertEquals(2, files.count(), "latch and mark");
        }
    }

    private Path latchFile() {
        return CabinetFileNames.file(folder, "latch", NORTH, ".txt");
    }
}
