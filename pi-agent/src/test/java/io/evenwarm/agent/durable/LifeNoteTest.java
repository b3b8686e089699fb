package io.evenwarm.agent.durable;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.BootId;
import io.evenwarm.message.Moment;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class LifeNoteTest {

    private static final Instant EVENING = Instant.parse("2026-03-01T19:30:00Z");

    private static final Moment NOW =
            new Moment(new BootId(new UUID(3, 4)), 61_000_000_000L, EVENING, true);

    @TempDir Path folder;

    private LifeNote onBoot(String boot) {
        return new LifeNote(folder, boot);
    }

    @Test
    void aBootAfterARunThatNeverEndedIsAPowerCut() throws IOException {
        LifeNote before = onBoot("aaaa-1");
        before.running(NOW, Optional.of(EVENING));
        before.running(NOW, Optional.empty());
        LifeNote.PowerCut cut = onBoot("bbbb-2").powerCut().orElseThrow();
        assertEquals(Optional.of(EVENING), cut.lastAlive());
    }

    @Test
    void anAgentThatDiedWhileTheMachineWentOnIsNone() throws IOException {
        onBoot("aaaa-1").running(NOW, Optional.of(EVENING));
        assertEquals(Optional.empty(), onBoot("aaaa-1").powerCut());
    }

    @Test
    void aWantedEndBeforeTheMachineWasSwitchedOffIsNone() throws IOException {
        LifeNote before = onBoot("aaaa-1");
        before.running(NOW, Optional.of(EVENING));
        before.ended(NOW);
        assertEquals(Optional.empty(), onBoot("bbbb-2").powerCut());
    }

    @Test
    void withoutATrustedClockTheCutIsKnownAndItsLengthIsNot() throws IOException {
        onBoot("aaaa-1").running(NOW, Optional.empty());
        assertEquals(Optional.empty(), onBoot("bbbb-2").powerCut().orElseThrow().lastAlive());
    }

    @Test
    void theNoteTellsOfWhichRunItIsAndWhenItLived() throws IOException {
        onBoot("aaaa-1").running(NOW, Optional.of(EVENING));
        LifeNote.Left left = onBoot("aaaa-1").left().orElseThrow();
        assertEquals(
                new LifeNote.Left("aaaa-1", false, Optional.of(NOW), Optional.of(EVENING)), left);
        onBoot("aaaa-1").ended(NOW);
        assertTrue(onBoot("aaaa-1").left().orElseThrow().hasEnded());
    }

    @Test
    void aNoteOfTheFirstFormIsStillRead() throws IOException {
        new NoteFile(SmallFiles.real(), folder.resolve("life.txt"))
                .write(
                        List.of(
                                "evenwarm life 1",
                                "machine boot aaaa-1",
                                "state running",
                                "last known time 2026-03-01T19:30:00Z"));
        LifeNote.Left left = onBoot("bbbb-2").left().orElseThrow();
        assertEquals(
                new LifeNote.Left("aaaa-1", false, Optional.empty(), Optional.of(EVENING)), left);
        assertEquals(Optional.of(EVENING), onBoot("bbbb-2").powerCut().orElseThrow().lastAlive());
    }

    @Test
    void nothingAndNonsenseSayNothing() throws IOException {
        assertEquals(Optional.empty(), onBoot("aaaa-1").powerCut());
        Files.writeString(folder.resolve("life.txt"), "soup");
        assertEquals(Optional.empty(), onBoot("aaaa-1").powerCut());
        assertTrue(Files.exists(folder.resolve("life.txt")));
    }
}
