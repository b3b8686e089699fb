package io.evenwarm.monitor.notice.channel;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.notice.Delivery;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeJson;
import io.evenwarm.monitor.notice.NoticeKind;
import io.evenwarm.monitor.notice.Notices;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A program of the user's gets the notice on its input, and can't hold anything up. */
final class ProgramChannelTest {

    private final Path folder;

    ProgramChannelTest(@TempDir Path folder) {
        this.folder = folder;
    }

    private ProgramChannel script(int limitMillis, String... lines) throws IOException {
        Path file = folder.resolve("tell it");
        Files.writeString(file, "#!/bin/sh\n" + String.join("\n", lines) + "\n");
        Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rwx------"));
        return new ProgramChannel(
                "program",
                List.of(file.toString(), folder.toString(), "$(touch x); \"a b\" *"),
                Duration.ofMillis(limitMillis));
    }

    @Test
    void theNoticeIsOneLineOfJsonAndArgumentsStayAsTheyAre() throws IOException {
        Notice notice =
                Notices.of("e1", 1, NoticeKind.FIRST, Notices.cold("x'; rm -rf \"$HOME\"\n卵"));
        ProgramChannel channel =
                script(
                        10_000,
                        "cat > \"$1/input\"",
                        "printf '%s' \"$2\" > \"$1/argument\"",
                        "env > \"$1/environment\"",
                        "echo told");
        assertEquals(
                new Delivery.Delivered("ended with 0: told"),
                channel.deliver(notice, Notices.KEEPER));
        String input = Files.readString(folder.resolve("input"));
        assertEquals(1, input.lines().count());
        assertTrue(input.contains("\"person\":\"keeper\""), input);
        assertEquals(notice, NoticeJson.parse(input));
        assertEquals("$(touch x); \"a b\" *", Files.readString(folder.resolve("argument")));
        assertTrue(
                Files.readAllLines(folder.resolve("environment")).stream()
                        .map(line -> line.substring(0, line.indexOf('=')))
                        .allMatch(
                                List.of(
                                                "PATH",
                                                "HOME",
                                                "LANG",
                                                "LC_ALL",
                                                "TZ",
                                                "TMPDIR",
                                                // Of the shell itself.
                                                "PWD",
                                                "_",
                                                "SHLVL",
                                                "OLDPWD")
                                        ::contains),
                "nothing of our own environment");
    }

    @Test
    void howItEndsDecides() throws IOException {
        assertEquals(
                new Delivery.TryAgain("ended with 75: busy (try again)", Duration.ZERO),
                script(10_000, "echo busy", "exit 75")
                        .deliver(Notices.first("e1"), Notices.KEEPER));
        assertEquals(
                new Delivery.Refused("ended with 67: who is that?"),
                script(10_000, "echo 'who is that?' >&2", "exit 67")
                        .deliver(Notices.first("e1"), Notices.KEEPER));
        assertEquals(
                new Delivery.TryAgain("ended with 1", Duration.ZERO),
                script(10_000, "exit 1").deliver(Notices.first("e1"), Notices.KEEPER));
    }

    @Test
    void oneThatDoesNotEndIsKilledWithWhatItStarted() throws IOException {
        MonotonicClock clock = SystemClock.monotonic();
        ProgramChannel channel = script(700, "sleep 61 &", "echo $! > \"$1/child\"", "sleep 62");
        long began = clock.nanos();
        Delivery delivery = channel.deliver(Notices.first("e1"), Notices.KEEPER);
        long millis = (clock.nanos() - began) / 1_000_000;
        assertEquals("it did not end within 0 s and was killed", delivery.words());
        assertTrue(millis < 10_000, millis + " ms with a limit of 0.7 s");
        long child = Long.parseLong(Files.readString(folder.resolve("child")).strip());
        Waiting.until(
                10,
                () -> !ProcessHandle.of(child).map(ProcessHandle::isAlive).orElse(false),
                () -> "the child " + child + " lives");
    }

    @Test
    void whatItPrintsIsBoundedAndMadeOneLine() throws IOException {
        Delivery delivery =
                script(20_000, "yes 'a line' | head -c 3000000", "printf '\\033[31m'")
                        .deliver(Notices.first("e1"), Notices.KEEPER);
        assertInstanceOf(Delivery.Delivered.class, delivery);
        assertTrue(delivery.words().startsWith("ended with 0: a line a line"), delivery.words());
        assertTrue(delivery.words().length() < 250, delivery.words());
        assertFalse(delivery.words().contains("\n"));
    }

    @Test
    void oneThatIsNotThereIsSaid() {
        Delivery delivery =
                new ProgramChannel("program", List.of("/nowhere/tell"), Duration.ofSeconds(2))
                        .deliver(Notices.first("e1"), Notices.KEEPER);
        assertInstanceOf(Delivery.TryAgain.class, delivery);
        assertTrue(delivery.words().startsWith("it can't be started"), delivery.words());
    }
}
