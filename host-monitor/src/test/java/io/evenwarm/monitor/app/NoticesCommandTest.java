package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import io.evenwarm.testing.Programs;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** {@code notices test} tries each of a person's channels for real and says what came of it. */
final class NoticesCommandTest {

    private final Path home;
    private final ByteArrayOutputStream out = new ByteArrayOutputStream();
    private final ByteArrayOutputStream err = new ByteArrayOutputStream();

    NoticesCommandTest(@TempDir Path home) throws IOException {
        this.home = home;
        int closedPort = Programs.freePort();
        Path script = home.resolve("tell");
        Files.writeString(script, "#!/bin/sh\ncat > " + home.resolve("told") + "\necho told\n");
        Files.setPosixFilePermissions(script, PosixFilePermissions.fromString("rwx------"));
        Path secrets = home.resolve("password");
        Files.writeString(secrets, "hunter2\n");
        Files.setPosixFilePermissions(secrets, PosixFilePermissions.fromString("rw-------"));
        Files.writeString(
                home.resolve("monitor.toml"),
                """
                [[channel]]
                name = "script"
                kind = "program"
                command = ["%s"]
                [[channel]]
                name = "post"
                kind = "mail"
                host = "localhost"
                port = %d
                user = "eggs"
                password_file = "password"
                from = "eggs@example.org"
                limit_seconds = 2
                [[person]]
                name = "Anna"
                channels = ["script"]
                [[person]]
                name = "Bert"
                mail = "bert@example.org"
                channels = ["post", "script"]
                """
                        .formatted(script, closedPort));
    }

    private int run(String... arguments) {
        return MonitorMain.run(
                Folders.of(Map.of(), home.toString()),
                new Output(print(out), print(err)),
                arguments);
    }

    private static PrintStream print(ByteArrayOutputStream bytes) {
        return new PrintStream(bytes, true, StandardCharsets.UTF_8);
    }

    private String text(ByteArrayOutputStream bytes) {
        return bytes.toString(StandardCharsets.UTF_8);
    }

    private String settings() {
        return home.resolve("monitor.toml").toString();
    }

    @Test
    void aTestNoticeIsMarkedAndTheAnswerAndItsTimeArePrinted() throws IOException {
        assertEquals(0, run("notices", "test", "Anna", "--settings", settings()), text(err));
        assertTrue(
                text(out)
                        .strip()
                        .matches(
                                "script \\(program\\): delivered after \\d+ ms: ended with 0: told"),
                text(out));
        JsonNode told =
                JsonMapper.builder().build().readTree(Files.readString(home.resolve("told")));
        assertEquals("drill", told.get("kind").asText());
        assertEquals(
                "TEST, nothing is wrong: this is how evenwarm reaches Anna",
                told.get("subject").asText());
    }

    @Test
    void oneChannelThatFailsMakesTheAnswerNoAndTheOthersAreTriedAllTheSame() throws IOException {
        assertEquals(1, run("notices", "test", "Bert", "--json", "--settings", settings()));
        JsonNode json = JsonMapper.builder().build().readTree(text(out));
        assertEquals("Bert", json.get("person").asText());
        assertEquals("delivered", json.get("channels").get(0).get("answer").asText());
        assertEquals("post", json.get("channels").get(1).get("channel").asText());
        assertEquals("try again", json.get("channels").get(1).get("answer").asText());
        assertFalse((text(out) + text(err)).contains("hunter2"));
    }

    @Test
    void aPersonWhomNobodyKnowsIsBadInput() {
        assertEquals(2, run("notices", "test", "Cleo", "--settings", settings()));
        assertTrue(
                text(err)
                        .contains("PERSON must be one of the settings: [Anna, Bert], but was Cleo"),
                text(err));
        assertEquals(2, run("notices", "--settings", settings()));
        assertEquals("", text(out));
    }
}
