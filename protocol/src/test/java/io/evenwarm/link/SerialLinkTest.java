package io.evenwarm.link;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.Message;
import io.evenwarm.testing.PtyPair;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Over a pair of pseudo-terminals, which know no baud rate and lose nothing. */
final class SerialLinkTest extends LinkContract {

    private static final int BAUD = 115_200;

    private final Path folder;
    private @Nullable PtyPair cable;

    SerialLinkTest(@TempDir Path folder) {
        this.folder = folder;
    }

    @BeforeAll
    static void needSocat() {
        PtyPair.assumeThatSocatIsThere();
    }

    @Override
    Ends open() throws IOException {
        PtyPair plugged = PtyPair.open(folder);
        cable = plugged;
        return new Ends(
                SerialLinks.open(plugged.left().toString(), BAUD),
                SerialLinks.open(plugged.right(), BAUD));
    }

    @Override
    void kill(Ends openEnds) throws IOException {
        cleanUp();
    }

    @Override
    void cleanUp() throws IOException {
        if (cable != null) {
            cable.close();
        }
    }

    @Test
    void aPortThatIsInUseSaysSo() {
        LinkException busy =
                assertThrows(
                        LinkException.class, () -> SerialLinks.open(folder.resolve("left"), BAUD));
        assertTrue(words(busy).contains("in use by another program"), words(busy));
    }

    @Test
    void aPortThatIsNotThereOrNoPortSaysSo() {
        for (String missing : new String[] {folder.resolve("none").toString(), "ttyNone7"}) {
            LinkException none =
                    assertThrows(LinkException.class, () -> SerialLinks.open(missing, BAUD));
            assertTrue(words(none).contains("there is no serial port " + missing), words(none));
        }
        LinkException noPort =
                assertThrows(
                        LinkException.class,
                        () -> SerialLinks.open(folder.resolve("socat.log"), BAUD));
        assertTrue(words(noPort).contains("no serial port"), words(noPort));
        assertThrows(LinkException.class, () -> SerialLinks.open(folder.resolve("left"), 0));
    }

    @Test
    void aSenderGivesUpOnALineThatTakesNothing() throws IOException {
        Path apart = Files.createDirectory(folder.resolve("apart"));
        try (PtyPair other = PtyPair.open(apart);
                Link sender =
                        SerialLinks.open(other.left().toString(), BAUD, Duration.ofMillis(300))) {
            // Nobody has opened the other end: nothing is read from it.
            LinkException stuck =
                    assertThrows(
                            LinkException.class,
                            () -> {
                                while (true) {
                                    sender.send(new Message.Goodbye("y".repeat(10_000)));
                                }
                            });
            assertTrue(words(stuck).contains("took nothing for 300 ms"), words(stuck));
        }
    }

    @Test
    void aReplugIsANewLinkOnTheSamePath() throws IOException {
        cleanUp();
        try (PtyPair again = PtyPair.open(folder);
                Link left = SerialLinks.open(again.left(), BAUD);
                Link right = SerialLinks.open(again.right(), BAUD)) {
            left.send(new Message.Acknowledge(3));
            assertEquals(Optional.of(new Message.Acknowledge(3)), right.receive(SOON));
        }
    }
}
