package io.evenwarm.agent.durable;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.agent.port.HeldDuty;
import io.evenwarm.message.CabinetName;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

final class FileHeldDutyStoreTest {

    private static final CabinetName NORTH = new CabinetName("north");
    private static final HeldDuty HELD =
            new HeldDuty(0.372, 31.5, Instant.parse("2026-03-01T10:20:30.123456789Z"), true);

    @TempDir private Path folder;
    private FileHeldDutyStore store;

    @BeforeEach
    void open() {
        store = new FileHeldDutyStore(folder);
    }

    @Test
    void theDutyIsFoundAgain() throws IOException {
        assertEquals(Optional.empty(), store.load(NORTH));
        store.save(NORTH, HELD);
        assertEquals(Optional.of(HELD), new FileHeldDutyStore(folder).load(NORTH));
        assertEquals(Optional.empty(), store.load(new CabinetName("south")));
    }

    @Test
    void damageBeginsAnew() throws IOException {
        store.save(NORTH, HELD);
        Path file = CabinetFileNames.file(folder, "held-duty", NORTH, ".txt");
        Files.writeString(file, Files.readString(file).replace("0.372", "0.972"));
        assertEquals(Optional.empty(), store.load(NORTH));
    }

    @ParameterizedTest
    @ValueSource(strings = {"duty 1.01", "duty -0.1", "duty NaN", "duty much", "wall soon", "more"})
    void whatNoDutyCanBeBeginsAnewThoughTheFileIsWhole(String line) throws IOException {
        Path file = CabinetFileNames.file(folder, "held-duty", NORTH, ".txt");
        new NoteFile(SmallFiles.real(), file)
                .write(
                        List.of(
                                "evenwarm held duty 1",
                                "cabinet north",
                                line.startsWith("duty") ? line : "duty 0.3",
                                "celsius 31.5",
                                line.startsWith("wall") ? line : "wall 2026-03-01T10:20:30Z",
                                line.equals("more") ? line : "wall trusted true"));
        assertEquals(Optional.empty(), store.load(NORTH));
    }
}
