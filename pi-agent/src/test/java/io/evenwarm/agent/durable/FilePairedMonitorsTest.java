package io.evenwarm.agent.durable;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.port.PairedMonitors.Paired;
import io.evenwarm.link.KeyPin;
import io.evenwarm.message.Role;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class FilePairedMonitorsTest {

    private static final KeyPin DESK = new KeyPin("1a".repeat(32));
    private static final KeyPin PHONE = new KeyPin("2b".repeat(32));

    private final Path folder;
    private final FilePairedMonitors monitors;

    FilePairedMonitorsTest(@TempDir Path folder) {
        this.folder = folder;
        this.monitors = new FilePairedMonitors(folder);
    }

    private Path file(KeyPin key) {
        return folder.resolve("paired-monitors").resolve(key.sha256Hex() + ".txt");
    }

    @Test
    void whatWasPairedIsThereAfterARestart() throws IOException {
        assertEquals(Optional.empty(), monitors.roleOf(DESK));
        monitors.add(new Paired(DESK, Role.LOOK, "desk"));
        monitors.add(new Paired(PHONE, Role.OPERATE, "attic"));
        FilePairedMonitors again = new FilePairedMonitors(folder);
        assertEquals(Optional.of(Role.LOOK), again.roleOf(DESK));
        assertEquals(Optional.of(Role.OPERATE), again.roleOf(PHONE));
        assertEquals(
                List.of(
                        new Paired(PHONE, Role.OPERATE, "attic"),
                        new Paired(DESK, Role.LOOK, "desk")),
                again.list(new ArrayList<>()));
    }

    @Test
    void pairedAgainTheNewRoleCounts() throws IOException {
        monitors.add(new Paired(DESK, Role.LOOK, "desk"));
        monitors.add(new Paired(DESK, Role.OPERATE, "desk"));
        assertEquals(Optional.of(Role.OPERATE), monitors.roleOf(DESK));
    }

    @Test
    void whatIsTakenOutIsOutAtOnceAndNothingElse() throws IOException {
        monitors.add(new Paired(DESK, Role.LOOK, "desk"));
        monitors.add(new Paired(PHONE, Role.OPERATE, "attic"));
        assertTrue(new FilePairedMonitors(folder).remove(DESK));
        assertEquals(Optional.empty(), monitors.roleOf(DESK));
        assertEquals(Optional.of(Role.OPERATE), monitors.roleOf(PHONE));
        assertFalse(monitors.remove(DESK));
    }

    /** A role that a flipped bit made must not open a cabinet. */
    @Test
    void aDamagedNoteLetsNobodyInAndIsNamed() throws IOException {
        monitors.add(new Paired(DESK, Role.LOOK, "desk"));
        String text = Files.readString(file(DESK));
        Files.writeString(file(DESK), text.replace("role look", "role operate"));
        assertEquals(Optional.empty(), monitors.roleOf(DESK));
        List<String> problems = new ArrayList<>();
        assertEquals(List.of(), monitors.list(problems));
        assertTrue(problems.get(0).contains("is damaged"), problems.get(0));
    }

    @Test
    void aNoteUnderAnotherKeysNameLetsNobodyIn() throws IOException {
        monitors.add(new Paired(DESK, Role.OPERATE, "desk"));
        Files.copy(file(DESK), file(PHONE));
        assertEquals(Optional.empty(), monitors.roleOf(PHONE));
        assertEquals(Optional.of(Role.OPERATE), monitors.roleOf(DESK));
    }
}
