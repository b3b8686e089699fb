package io.evenwarm.monitor.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class PageAccessTest {

    private static final Instant NOW = Instant.parse("2026-03-01T18:00:00Z");
    private static final Visitor KEEPER = new Visitor("the keeper", true);

    private final Path folder;
    private final PageAccess access;

    PageAccessTest(@TempDir Path folder) {
        this.folder = folder.resolve("page");
        this.access = new PageAccess(this.folder);
    }

    @Test
    void aLinkOpensOnceAndGivesASessionThatEndsByItself() throws IOException {
        String link = access.link(KEEPER, 30, NOW);
        assertTrue(access.isLink(link, NOW));
        assertEquals(Optional.empty(), access.visitor(link, NOW), "a link is no session");

        PageAccess.Opened opened = access.open(link, NOW).orElseThrow();
        assertEquals(Duration.ofDays(30), opened.length());
        assertEquals(Optional.empty(), access.open(link, NOW));
        Instant last = NOW.plus(Duration.ofDays(30)).minusSeconds(1);
        assertEquals(Optional.of(KEEPER), access.visitor(opened.session(), last));
        assertEquals(
                Optional.empty(), access.visitor(opened.session(), NOW.plus(Duration.ofDays(30))));
    }

    @Test
    void aLinkThatNobodyOpensEndsWithinADay() throws IOException {
        String link = access.link(KEEPER, 30, NOW);
        assertEquals(Optional.empty(), access.open(link, NOW.plus(PageAccess.LINK_TIME)));
    }

    @Test
    void whoIsRevokedOrLeavesIsOutAtOnceAndOthersStay() throws IOException {
        String keeper = access.open(access.link(KEEPER, 30, NOW), NOW).orElseThrow().session();
        access.link(KEEPER, 30, NOW);
        Visitor friend = new Visitor("a friend", false);
        String friends = access.open(access.link(friend, 1, NOW), NOW).orElseThrow().session();
        assertEquals(3, access.all(NOW).size());
        assertEquals(2, access.revoke("the keeper", NOW));
        assertEquals(Optional.empty(), access.visitor(keeper, NOW));
        assertEquals(Optional.of(friend), access.visitor(friends, NOW));
        access.leave(friends);
        assertEquals(Optional.empty(), access.visitor(friends, NOW));
        assertEquals(List.of(), access.all(NOW));
    }

    @Test
    void noSecretIsKeptAndNobodyElseMayReadWhatIs() throws IOException {
        String link = access.link(KEEPER, 30, NOW);
        assertEquals(
                "rwx------", PosixFilePermissions.toString(Files.getPosixFilePermissions(folder)));
        try (Stream<Path> files = Files.list(folder)) {
            for (Path file : files.toList()) {
                assertFalse(file.toString().contains(link));
                assertFalse(Files.readString(file).contains(link));
            }
        }
    }

    @Test
    void damagedFilesAndOddSecretsLetNobodyIn() throws IOException {
        String link = access.link(KEEPER, 30, NOW);
        try (Stream<Path> files = Files.list(folder)) {
            for (Path file : files.toList()) {
                Files.writeString(file, "link\nsoon\n");
            }
        }
        assertFalse(access.isLink(link, NOW));
        for (String odd : List.of("", "../../etc/passwd", "x".repeat(43), link + "x")) {
            assertEquals(Optional.empty(), access.visitor(odd, NOW), odd);
            assertEquals(Optional.empty(), access.open(odd, NOW), odd);
        }
    }

    @Test
    void namesAndLengthsHaveLimits() {
        for (String name : List.of("", " x", "a\nb", "x".repeat(65))) {
            assertThrows(
                    IllegalArgumentException.class,
                    () -> access.link(new Visitor(name, false), 1, NOW),
                    name);
        }
        assertThrows(IllegalArgumentException.class, () -> access.link(KEEPER, 0, NOW));
        assertThrows(IllegalArgumentException.class, () -> access.link(KEEPER, 367, NOW));
    }
}
