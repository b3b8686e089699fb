package io.evenwarm.link;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.Message;
import java.io.IOException;
import java.net.StandardProtocolFamily;
import java.net.UnixDomainSocketAddress;
import java.nio.channels.ServerSocketChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class LocalLinkTest extends LinkContract {

    private final Path folder;
    private @Nullable LinkListener listener;

    LocalLinkTest(@TempDir Path folder) {
        this.folder = folder;
    }

    @Override
    Ends open() throws LinkException {
        LinkListener opened = LocalLinks.listen(socket());
        listener = opened;
        Link left = LocalLinks.connect(socket());
        return new Ends(left, opened.accept());
    }

    @Override
    void kill(Ends openEnds) {
        openEnds.right().close();
    }

    @Override
    void cleanUp() {
        if (listener != null) {
            listener.close();
        }
    }

    private Path socket() {
        return folder.resolve("agent.socket");
    }

    @Test
    void onlyTheOwnerMayUseTheSocketAndNothingElseIsLeftInItsFolder() throws IOException {
        assertEquals(
                "rw-------",
                PosixFilePermissions.toString(Files.getPosixFilePermissions(socket())));
        assertEquals(List.of(socket()), files());
    }

    @Test
    void aLivingListenerIsNotPushedAside() throws IOException {
        LinkException refusal =
                assertThrows(LinkException.class, () -> LocalLinks.listen(socket()));
        assertTrue(words(refusal).contains("another program listens"), words(refusal));
        try (Link stillThere = LocalLinks.connect(socket())) {
            stillThere.send(new Message.KeepAlive());
        }
        assertEquals(List.of(socket()), files());
    }

    @Test
    void theSocketFileOfADeadProgramIsReplaced() throws IOException {
        Path left = folder.resolve("left.socket");
        try (ServerSocketChannel dead = ServerSocketChannel.open(StandardProtocolFamily.UNIX)) {
            dead.bind(UnixDomainSocketAddress.of(left));
        }
        assertTrue(Files.exists(left));
        LinkException nobody = assertThrows(LinkException.class, () -> LocalLinks.connect(left));
        assertTrue(words(nobody).contains("has ended"), words(nobody));
        try (LinkListener again = LocalLinks.listen(left);
                Link near = LocalLinks.connect(left);
                Link far = again.accept()) {
            near.send(new Message.KeepAlive());
            assertEquals(Optional.of(new Message.KeepAlive()), far.receive(SOON));
        }
        assertFalse(Files.exists(left));
    }

    @Test
    void aFileThatIsNoSocketIsLeftAlone() throws IOException {
        Path file = Files.writeString(folder.resolve("notes"), "keep me");
        LinkException refusal = assertThrows(LinkException.class, () -> LocalLinks.listen(file));
        assertTrue(words(refusal).contains("is no socket"), words(refusal));
        assertEquals("keep me", Files.readString(file));
    }

    @Test
    void missingSocketMissingFolderAndLongPathHaveWords() {
        LinkException missing =
                assertThrows(LinkException.class, () -> LocalLinks.connect(folder.resolve("none")));
        assertTrue(words(missing).contains("there is no local socket"), words(missing));
        LinkException noFolder =
                assertThrows(
                        LinkException.class, () -> LocalLinks.listen(folder.resolve("no/socket")));
        assertTrue(words(noFolder).contains("folder is not there"), words(noFolder));
        LinkException tooLong =
                assertThrows(
                        LinkException.class,
                        () -> {
                            Path deep = folder.resolve("d".repeat(120));
                            Files.createDirectories(deep);
                            LocalLinks.listen(deep.resolve("socket")).close();
                        });
        assertTrue(words(tooLong).contains("too long"), words(tooLong));
    }

    @Test
    void closingRemovesOnlyTheListenersOwnSocket() throws IOException {
        LinkListener old = LocalLinks.listen(folder.resolve("a"));
        Files.delete(folder.resolve("a"));
        try (LinkListener successor = LocalLinks.listen(folder.resolve("a"))) {
            old.close();
            assertTrue(Files.exists(folder.resolve("a")));
            LinkException ended = assertThrows(LinkException.class, old::accept);
            assertTrue(words(ended).contains("closed"), words(ended));
            assertEquals(folder.resolve("a").toString(), successor.address());
        }
    }

    private List<Path> files() throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.toList();
        }
    }
}
