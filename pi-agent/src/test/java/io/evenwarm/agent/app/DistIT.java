package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** What is shipped, and what must not be. */
final class DistIT {

    private static final Path LIB = Path.of("target/dist/lib");

    private static List<String> jars() throws IOException {
        try (Stream<Path> files = Files.list(LIB)) {
            return files.map(file -> String.valueOf(file.getFileName())).sorted().toList();
        }
    }

    /** A mock that answers in the place of a chip that is not there would make numbers up. */
    @Test
    void pi4jIsShippedWithItsTwoProvidersAndWithoutItsMock() throws IOException {
        assertEquals(
                List.of(
                        "pi4j-core-2.8.0.jar",
                        "pi4j-library-gpiod-2.8.0.jar",
                        "pi4j-library-linuxfs-2.8.0.jar",
                        "pi4j-plugin-gpiod-2.8.0.jar",
                        "pi4j-plugin-linuxfs-2.8.0.jar"),
                jars().stream().filter(jar -> jar.startsWith("pi4j")).toList());
        assertFalse(jars().stream().anyMatch(jar -> jar.contains("mock")), jars()::toString);
    }

    /**
     * An SD card holds it many times over: all of the agent's jars, natives for each Pi included.
     */
    @Test
    void theAgentsJarsAreUnder40Megabytes() throws IOException {
        long octets = 0;
        for (String jar : jars()) {
            octets += Files.size(LIB.resolve(jar));
        }
        assertTrue(
                octets > 1_000_000 && octets < 40_000_000, "the jars have " + octets + " octets");
    }
}
