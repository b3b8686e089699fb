package io.evenwarm.link;

import java.io.IOException;
import java.lang.System.Logger.Level;
import java.nio.channels.ServerSocketChannel;
import java.nio.channels.SocketChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;

/** Waits at a local socket. The file's rights have judged already who may come. */
final class LocalListener implements LinkListener {

    private static final System.Logger LOG = System.getLogger(LocalListener.class.getName());

    private final ServerSocketChannel server;
    private final Path path;
    private final Optional<Object> fileKey;

    LocalListener(ServerSocketChannel server, Path path, Optional<Object> fileKey) {
        this.server = server;
        this.path = path;
        this.fileKey = fileKey;
    }

    @Override
    public Link accept() throws LinkException {
        try {
            SocketChannel channel = server.accept();
            return FramedLink.over(new ChannelOctets(channel), "a program on this machine");
        } catch (IOException e) {
            throw new LinkException(
                    server.isOpen()
                            ? "the listener at " + path + " is lost: " + e.getMessage()
                            : "the listener at " + path + " is closed",
                    e);
        }
    }

    @Override
    public String address() {
        return path.toString();
    }

    @Override
    public void close() {
        if (!server.isOpen()) {
            return;
        }
        try {
            // A later program may have put its own socket there meanwhile.
            if (fileKey.isPresent() && fileKey.equals(LocalLinks.fileKey(path))) {
                Files.deleteIfExists(path);
            }
        } catch (IOException e) {
            LOG.log(Level.WARNING, "can''t remove {0}: {1}", path, e.getMessage());
        }
        Closing.quietly(server);
    }
}
