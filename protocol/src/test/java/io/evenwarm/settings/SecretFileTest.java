package io.evenwarm.settings;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

final class SecretFileTest {

    private final Path file;

    SecretFileTest(@TempDir Path folder) {
        file = folder.resolve("secret");
    }

    private void write(String text, String rights) throws IOException {
        Files.writeString(file, text);
        Files.setPosixFilePermissions(file, PosixFilePermissions.fromString(rights));
    }

    @ParameterizedTest
    @CsvSource({"rw-------", "r--------"})
    void aLineThatOnlyItsOwnerMayReadIsTaken(String rights) throws IOException {
        write("  open sesame \n", rights);
        assertEquals("open sesame", SecretFile.read(file));
    }

    @ParameterizedTest
    @CsvSource({"rw-r-----", "rw----r--", "rw--w----", "rw-----w-"})
    void aFileThatOthersMayReadOrChangeIsRefusedWithoutItsText(String rights) throws IOException {
        write("sesame", rights);
        IOException refused = assertThrows(IOException.class, () -> SecretFile.read(file));
        assertEquals("others than its owner may read or change it", refused.getMessage());
        assertFalse(refused.toString().contains("sesame"));
    }

    @Test
    void whatIsNoSecretIsNamed() throws IOException {
        assertEquals("it is not there", message());
        write("one\ntwo", "rw-------");
        assertEquals("it has not one line but 2", message());
        write(" \n", "rw-------");
        assertEquals("it has not one line but 0", message());
        write("x".repeat(5000), "rw-------");
        assertEquals("it has more than 4096 octets", message());
        Files.write(file, new byte[] {(byte) 0xFF, (byte) 0xFE});
        assertEquals("it is no text in UTF-8", message());
    }

    private String message() {
        return String.valueOf(
                assertThrows(IOException.class, () -> SecretFile.read(file)).getMessage());
    }
}
