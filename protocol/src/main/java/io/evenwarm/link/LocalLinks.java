package io.evenwarm.link;

import java.io.IOException;
import java.lang.System.Logger.Level;
import java.net.ConnectException;
import java.net.StandardProtocolFamily;
import java.net.UnixDomainSocketAddress;
import java.nio.channels.ServerSocketChannel;
import java.nio.channels.SocketChannel;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.BasicFileAttributes;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * Links between programs of one user on one machine, over a Unix domain socket (unix(7)) that only
 * its owner can use.
 */
public final class LocalLinks {

    private static final System.Logger LOG = System.getLogger(LocalLinks.class.getName());

    /** Short, since a socket's whole path has room for 107 octets only (unix(7), sun_path). */
    private static final String NURSERY_PREFIX = ".ew";

    private static final String NURSERY_SOCKET = "s";

    private LocalLinks() {}

    /**
     * Listens at {@code path}, which is removed again at close.
     *
     * <p>The socket is made in a folder that only the owner may enter, given owner-only rights
     * there, and only then moved to {@code path}: it is never within others' reach. A socket file
     * that a dead program left is replaced.
     *
     * @throws LinkException when a living program listens there, or the path can't be used
     */
    public static LinkListener listen(Path path) throws LinkException {
        Path target = path.toAbsolutePath();
        refuseIfInUse(target);
        ServerSocketChannel server = null;
        Path nursery = null;
        try {
            Path folder = Optional.ofNullable(target.getParent()).orElse(target);
            nursery =
                    Files.createTempDirectory(
                            folder,
                            NURSERY_PREFIX,
                            PosixFilePermissions.asFileAttribute(
                                    PosixFilePermissions.fromString("rwx------")));
            Path socket = nursery.resolve(NURSERY_SOCKET);
            server = ServerSocketChannel.open(StandardProtocolFamily.UNIX);
            server.bind(UnixDomainSocketAddress.of(socket));
            Files.setPosixFilePermissions(socket, PosixFilePermissions.fromString("rw-------"));
            Files.move(
                    socket,
                    target,
                    StandardCopyOption.ATOMIC_MOVE,
                    StandardCopyOption.REPLACE_EXISTING);
            return new LocalListener(server, target, fileKey(target));
        } catch (IOException | UnsupportedOperationException e) {
            Closing.quietly(server);
            throw new LinkException("can't make the local socket " + target + ": " + reason(e), e);
        } finally {
            removeNursery(nursery);
        }
    }

    /**
     * Connects to the program that listens at {@code path}.
     *
     * @throws LinkException when none does, or it belongs to another user
     */
    public static Link connect(Path path) throws LinkException {
        Path target = path.toAbsolutePath();
        if (!Files.exists(target, LinkOption.NOFOLLOW_LINKS)) {
            throw new LinkException("no program listens here: there is no local socket " + target);
        }
        SocketChannel channel = null;
        try {
            channel = SocketChannel.open(StandardProtocolFamily.UNIX);
            channel.connect(UnixDomainSocketAddress.of(target));
            return FramedLink.over(new ChannelOctets(channel), "the program at " + target);
        } catch (ConnectException e) {
            Closing.quietly(channel);
            throw new LinkException(
                    "no program listens at the local socket "
                            + target
                            + ": the one that made it has ended",
                    e);
        } catch (IOException e) {
            Closing.quietly(channel);
            throw new LinkException("no link to the local socket " + target + ": " + reason(e), e);
        }
    }

    private static void refuseIfInUse(Path target) throws LinkException {
        if (!Files.exists(target, LinkOption.NOFOLLOW_LINKS)) {
            return;
        }
        if (!isSocket(target)) {
            throw new LinkException(
                    target + " is there but is no socket; move it away, or choose another folder");
        }
        try (SocketChannel probe = SocketChannel.open(StandardProtocolFamily.UNIX)) {
            probe.connect(UnixDomainSocketAddress.of(target));
            throw new LinkException(
                    "another program listens at the local socket "
                            + target
                            + " already; end it first, or give this one another folder");
        } catch (ConnectException e) {
            // Nobody listens: a dead program left it, and the new socket takes its place.
            return;
        } catch (LinkException e) {
            throw e;
        } catch (IOException e) {
            throw new LinkException(
                    "can't tell who listens at the local socket " + target + ": " + reason(e), e);
        }
    }

    private static boolean isSocket(Path path) throws LinkException {
        try {
            return Files.readAttributes(path, BasicFileAttributes.class, LinkOption.NOFOLLOW_LINKS)
                    .isOther();
        } catch (IOException e) {
            throw new LinkException("can't look at " + path + ": " + reason(e), e);
        }
    }

    /** Names one file whatever it is called, so that only our own socket is removed at close. */
    static Optional<Object> fileKey(Path path) {
        try {
            return Optional.ofNullable(
                    Files.readAttributes(path, BasicFileAttributes.class).fileKey());
        } catch (IOException e) {
            return Optional.empty();
        }
    }

    private static void removeNursery(@Nullable Path nursery) {
        if (nursery == null) {
            return;
        }
        try {
            Files.deleteIfExists(nursery.resolve(NURSERY_SOCKET));
            Files.deleteIfExists(nursery);
        } catch (IOException e) {
            LOG.log(Level.WARNING, "can''t remove {0}: {1}", nursery, reason(e));
        }
    }

    private static String reason(Exception e) {
        String words = String.valueOf(e.getMessage());
        if (e instanceof AccessDeniedException || words.contains("Permission denied")) {
            return "it belongs to another user; run this as the user who owns it";
        }
        if (e instanceof NoSuchFileException) {
            return "its folder is not there";
        }
        if (words.contains("too long")) {
            return "its path is too long for a socket; choose a folder with a shorter path";
        }
        return words;
    }
}
