package io.evenwarm.link;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.interfaces.ECPublicKey;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class IdentityTest {

    private final Path folder;
    private final Path file;

    IdentityTest(@TempDir Path folder) {
        this.folder = folder;
        this.file = folder.resolve("identity.pem");
    }

    @Test
    void whatWasSavedIsLoadedAndOnlyTheOwnerMayReadIt() throws IOException {
        Identity made = Identity.create("egg room");
        made.save(file);
        Identity loaded = Identity.load(file);
        assertEquals(made.pin(), loaded.pin());
        assertEquals(made.certificate(), loaded.certificate());
        assertEquals(made.key(), loaded.key());
        assertEquals(
                "rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file)));
        assertEquals(List.of(file), files());
    }

    @Test
    void theKeyIsOnP256AndTheCertificateIsItsOwnIssuer() throws Exception {
        Identity identity = Identity.create("north wall, egg room");
        ECPublicKey key = (ECPublicKey) identity.certificate().getPublicKey();
        // P-256 has a group order of 256 bits (SP 800-186, 3.2.1.3).
        assertEquals(256, key.getParams().getOrder().bitLength());
        identity.certificate().verify(key);
        assertEquals(
                identity.certificate().getSubjectX500Principal(),
                identity.certificate().getIssuerX500Principal());
        // RFC 5280 s.4.1.2.5: 99991231235959Z for no well-defined expiration date.
        assertEquals(
                "9999-12-31T23:59:59Z",
                identity.certificate().getNotAfter().toInstant().toString());
    }

    @Test
    void everyIdentityIsAnother() {
        assertNotEquals(Identity.create("a").pin(), Identity.create("a").pin());
    }

    @Test
    void loadOrCreateMakesOneOnceAndKeepsIt() throws IOException {
        Identity first = Identity.loadOrCreate(file, "agent");
        Identity second = Identity.loadOrCreate(file, "agent");
        assertEquals(first.pin(), second.pin());
    }

    @Test
    void aMissingFileIsItsOwnException() {
        assertThrows(NoSuchFileException.class, () -> Identity.load(file));
    }

    @Test
    void aFileThatOthersMayReadIsRefused() throws IOException {
        Identity.create("agent").save(file);
        Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-r-----"));
        IOException refusal = assertThrows(IOException.class, () -> Identity.load(file));
        assertContains(refusal, "others may read or change it (rw-r-----)");
        assertContains(refusal, "chmod 600");
        assertThrows(IOException.class, () -> Identity.loadOrCreate(file, "agent"));
    }

    @Test
    void everyDamageIsAnExceptionWithTheFilesNameAndWhatToDo() throws IOException {
        Identity.create("agent").save(file);
        List<String> lines = Files.readAllLines(file);
        for (int missing = 0; missing < lines.size(); missing++) {
            int left = missing;
            write(
                    Stream.iterate(0, i -> i + 1)
                            .limit(lines.size())
                            .filter(i -> i != left)
                            .map(lines::get)
                            .toList());
            IOException damaged =
                    assertThrows(IOException.class, () -> Identity.load(file), lines.get(missing));
            assertContains(damaged, file.toString());
            assertContains(damaged, "delete it to get a new");
        }
        write(List.of("nothing of the kind"));
        assertContains(
                assertThrows(IOException.class, () -> Identity.load(file)), "no PRIVATE KEY block");
    }

    @Test
    void keyAndCertificateOfDifferentIdentitiesAreRefused() throws IOException {
        Path other = folder.resolve("other.pem");
        Identity.create("one").save(file);
        Identity.create("two").save(other);
        String key = Files.readString(file).split("-----BEGIN CERTIFICATE", 2)[0];
        String certificate = Files.readString(other).split("-----END PRIVATE KEY-----\\R", 2)[1];
        write(List.of(key + certificate));
        assertContains(
                assertThrows(IOException.class, () -> Identity.load(file)),
                "do not belong together");
    }

    @Test
    void savingReplacesTheOldFileAtOnce() throws IOException {
        Identity.create("old").save(file);
        Identity fresh = Identity.create("new");
        fresh.save(file);
        assertEquals(fresh.pin(), Identity.load(file).pin());
        assertEquals(List.of(file), files());
        assertThrows(IOException.class, () -> fresh.save(folder.resolve("no/such/folder.pem")));
    }

    @Test
    void pinsAreReadAsTheyArePrinted() {
        KeyPin pin = Identity.create("agent").pin();
        assertEquals(pin, KeyPin.parse(pin.toString()));
        assertEquals(pin, KeyPin.parse("  SHA256:" + pin.sha256Hex().toUpperCase(Locale.ROOT)));
        for (String wrong :
                Arrays.asList("", "sha256:", "sha256:" + "0".repeat(63), "md5:" + "0".repeat(64))) {
            IllegalArgumentException refusal =
                    assertThrows(IllegalArgumentException.class, () -> KeyPin.parse(wrong));
            assertTrue(String.valueOf(refusal.getMessage()).contains("64 hexadecimal digits"));
        }
    }

    private void write(List<String> lines) throws IOException {
        Files.write(file, lines);
    }

    private List<Path> files() throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.toList();
        }
    }

    private static void assertContains(Exception e, String words) {
        assertTrue(String.valueOf(e.getMessage()).contains(words), e.getMessage());
    }

    /** Whoever connects sees the certificate before anything is known of them. */
    @Test
    void aNewNameInTheCertificateLeavesTheKeyAsItWas() throws IOException {
        Path file = folder.resolve("renamed.pem");
        Identity before = Identity.loadOrCreate(file, "egg room");
        Identity renamed = Identity.loadOrCreate(file, "evenwarm");
        assertEquals(before.pin(), renamed.pin());
        assertEquals("CN=evenwarm", renamed.certificate().getSubjectX500Principal().getName());
        assertEquals(
                "CN=evenwarm",
                Identity.load(file).certificate().getSubjectX500Principal().getName());
    }
}
