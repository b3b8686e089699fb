package io.evenwarm.agent.durable;

import io.evenwarm.message.CabinetName;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/**
 * Names of files that belong to a cabinet. A cabinet's name may hold letters of any script and up
 * to 64 of them, more than every file system takes: the file's name has the plain letters of it for
 * people, and part of its SHA-256 so that no two cabinets share a file.
 */
final class CabinetFileNames {

    private static final int HASH_BYTES = 6;

    private CabinetFileNames() {}

    /** For example {@code latch-north-1f2e3d4c5b6a.txt}. */
    static Path file(Path folder, String kind, CabinetName cabinet, String ending) {
        String plain = cabinet.value().replaceAll("[^A-Za-z0-9_-]", "_");
        return folder.resolve(kind + "-" + plain + "-" + hash(cabinet) + ending);
    }

    private static String hash(CabinetName cabinet) {
        try {
            byte[] hash =
                    MessageDigest.getInstance("SHA-256")
                            .digest(cabinet.value().getBytes(StandardCharsets.UTF_8));
            return HexFormat.of().formatHex(hash, 0, HASH_BYTES);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }
}
