package io.evenwarm.agent.durable;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import io.evenwarm.message.CabinetName;
import io.evenwarm.quantity.Temperature;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class FileSetPointStoreTest {

    private static final CabinetName NORTH = new CabinetName("north");

    @TempDir private Path folder;

    @Test
    void nothingIsKeptBeforeTheFirstCommand() {
        assertEquals(Optional.empty(), new FileSetPointStore(folder).load(NORTH));
    }

    @Test
    void theLastCommandIsFoundAgainToTheLastBit() throws IOException {
        double celsius = 31.299999999999997;
        new FileSetPointStore(folder).save(NORTH, new Temperature(30));
        new FileSetPointStore(folder).save(NORTH, new Temperature(celsius));
        assertEquals(
                Optional.of(new Temperature(celsius)), new FileSetPointStore(folder).load(NORTH));
    }

    @Test
    void damageMeansThatNoneWasCommanded() throws IOException {
        FileSetPointStore store = new FileSetPointStore(folder);
        store.save(NORTH, new Temperature(30));
        Path file = CabinetFileNames.file(folder, "set-point", NORTH, ".txt");
        Files.writeString(file, Files.readString(file).replace("30.0", "90.0"));
        assertEquals(Optional.empty(), store.load(NORTH));
    }

    @Test
    void aNumberThatIsNoTemperatureMeansThatNoneWasCommanded() throws IOException {
        Path file = CabinetFileNames.file(folder, "set-point", NORTH, ".txt");
        for (String value : List.of("NaN", "Infinity", "1e9", "thirty", "")) {
            new NoteFile(SmallFiles.real(), file)
                    .write(List.of("evenwarm set point 1", "cabinet north", "celsius " + value));
            assertEquals(Optional.empty(), new FileSetPointStore(folder).load(NORTH), value);
        }
    }

    @Test
    void afterEveryPossibleFailureTheOldOrTheNewOneIsFound() throws IOException {
        new FileSetPointStore(folder).save(NORTH, new Temperature(30));
        for (int failing = 1; failing <= 3; failing++) {
            FileSetPointStore broken = new FileSetPointStore(folder, new FailingFiles(failing));
            assertThrows(IOException.class, () -> broken.save(NORTH, new Temperature(31)));
            double found = new FileSetPointStore(folder).load(NORTH).orElseThrow().celsius();
            assertEquals(failing < 3 ? 30 : 31, found, "change " + failing + " failed");
        }
    }
}
