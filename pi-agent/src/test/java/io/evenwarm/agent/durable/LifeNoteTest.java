package io.evenwarm.agent.durable;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class LifeNoteTest {

    private static final Instant EVENING = Instant.parse("2026-03-01T19:30:00Z");

    @TempDir Path folder;

    private LifeNote onBoot(String boot) {
        return new LifeNote(folder, boot);
    }

    @Test
    void aBootAfterARunThatNeverEndedIsAPowerCut() throws IOException {
        LifeNote before = onBoot("aaaa-1");
        before.running(Optional.of(EVENING));
        before.running(Optional.empty());
        LifeNote.PowerCut cut = onBoot("bbbb-2").powerCut().orElseThrow();
        assertEquals(Optional.of(EVENING), cut.lastAlive());
    }

    @Test
    void anAgentThatDiedWhileTheMachineWentOnIsNone() throws IOException {
        onBoot("aaaa-1").running(Optional.of(EVENING));
        assertEquals(Optional.empty(), onBoot("aaaa-1").powerCut());
    }

    @Test
    void aWantedEndBeforeTheMachineWasSwitchedOffIsNone() throws IOException {
        LifeNote before = onBoot("aaaa-1");
        before.running(Optional.of(EVENING));
        before.ended();
        assertEquals(Optional.empty(), onBoot("bbbb-2").powerCut());
    }

    @Test
    void withoutATrustedClockTheCutIsKnownAndItsLengthIsNot() throws IOException {
        onBoot("aaaa-1").running(Optional.empty());
        assertEquals(Optional.empty(), onBoot("bbbb-2").powerCut().orElseThrow().lastAlive());
    }

    @Test
    void nothingAndNonsenseSayNothing() throws IOException {
        assertEquals(Optional.empty(), onBoot("aaaa-1").powerCut());
        Files.writeString(folder.resolve("life.txt"), "soup");
        assertEquals(Optional.empty(), onBoot("aaaa-1").powerCut());
        assertTrue(Files.exists(folder.resolve("life.txt")));
    }
}
