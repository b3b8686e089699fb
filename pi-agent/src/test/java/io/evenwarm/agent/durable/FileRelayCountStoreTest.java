package io.evenwarm.agent.durable;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.message.CabinetName;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class FileRelayCountStoreTest {

    private static final CabinetName NORTH = new CabinetName("north");

    @TempDir private Path folder;

    @Test
    void theCountIsFoundAgain() throws IOException {
        assertEquals(0, new FileRelayCountStore(folder).load(NORTH));
        new FileRelayCountStore(folder).save(NORTH, 12_345);
        assertEquals(12_345, new FileRelayCountStore(folder).load(NORTH));
        assertEquals(0, new FileRelayCountStore(folder).load(new CabinetName("south")));
    }

    @Test
    void damageBeginsAnew() throws IOException {
        FileRelayCountStore store = new FileRelayCountStore(folder);
        store.save(NORTH, 12_345);
        Path file = CabinetFileNames.file(folder, "relay-count", NORTH, ".txt");
        Files.writeString(file, Files.readString(file).replace("12345", "99999"));
        assertEquals(0, store.load(NORTH));
    }
}
