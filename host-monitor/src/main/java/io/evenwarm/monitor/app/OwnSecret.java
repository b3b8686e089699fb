package io.evenwarm.monitor.app;

import io.evenwarm.monitor.notice.Secret;
import io.evenwarm.settings.SecretFile;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.util.HexFormat;

/** A key that this monitor makes for itself and shows to nobody. */
final class OwnSecret {

    private static final int OCTETS = 32;

    private OwnSecret() {}

    /**
     * The key in a file, made at its first use: 256 random bits in hex, with rights for its owner
     * only.
     *
     * @throws IOException when it can't be read or made, or others may read it
     */
    static Secret loadOrCreate(Path file) throws IOException {
        if (!Files.exists(file)) {
            create(file);
        }
        try {
            return new Secret(SecretFile.read(file));
        } catch (IOException e) {
            throw new IOException(
                    file + ": " + e.getMessage() + ". Without it the monitor makes a new one", e);
        }
    }

    private static void create(Path file) throws IOException {
        byte[] octets = new byte[OCTETS];
        new SecureRandom().nextBytes(octets);
        SecretFile.write(file, HexFormat.of().formatHex(octets) + "\n");
    }
}
