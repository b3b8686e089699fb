package io.evenwarm.agent.durable;

import io.evenwarm.agent.port.Latch;
import io.evenwarm.agent.port.LatchStore;
import io.evenwarm.message.CabinetName;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/**
 * Latches in small synced files, one a cabinet.
 *
 * <p><b>In doubt, tripped.</b> A file that is damaged, unreadable, of another cabinet or of an
 * unknown form means tripped. So does a file that is gone: beside each latch file stands a mark
 * that it was made once. Only where neither file nor mark is there, as at a cabinet's first start,
 * is the latch clear, and both are made at once.
 *
 * <p>Not protected: that somebody deletes both, or the whole folder.
 *
 * <p>Thread-safe as long as one thread saves.
 */
public final class FileLatchStore implements LatchStore {

    private static final System.Logger LOG = System.getLogger(FileLatchStore.class.getName());
    private static final String FORM = "evenwarm latch 1";
    private static final String CLEAR = "state clear";
    private static final String TRIPPED = "state tripped";
    private static final String REASON = "reason ";

    private final Path folder;
    private final SmallFiles files;

    /**
     * @param folder the agent's state folder; must exist
     */
    public FileLatchStore(Path folder) {
        this(folder, SmallFiles.real());
    }

    FileLatchStore(Path folder, SmallFiles files) {
        this.folder = folder;
        this.files = files;
    }

    @Override
    public Latch load(CabinetName cabinet) {
        try {
            CabinetNote note = note(cabinet);
            Optional<List<String>> noted = note.read();
            return noted.isPresent() ? parsed(note, noted.get()) : missing(cabinet);
        } catch (IOException | RuntimeException e) {
            return new Latch.Tripped("latch file unreadable: " + e.getMessage());
        }
    }

    private Latch missing(CabinetName cabinet) throws IOException {
        if (files.read(mark(cabinet)).isPresent()) {
            return new Latch.Tripped(
                    "latch file missing: " + note(cabinet).path() + " was there before");
        }
        Latch first = new Latch.Clear();
        try {
            save(cabinet, first);
        } catch (IOException e) {
            LOG.log(
                    System.Logger.Level.WARNING,
                    "cabinet {0}: could not make its latch file, a trip may not survive a power"
                            + " cut: {1}",
                    cabinet,
                    e.getMessage());
        }
        return first;
    }

    private static Latch parsed(CabinetNote note, List<String> noted) throws IOException {
        if (noted.equals(List.of(CLEAR))) {
            return new Latch.Clear();
        }
        String state = noted.isEmpty() ? "" : noted.get(0);
        if (!state.equals(TRIPPED)) {
            throw note.unexpected(
                    CabinetNote.HEADING_LINES + 1, CLEAR + "\" or \"" + TRIPPED, state);
        }
        return new Latch.Tripped(note.values(noted, TRIPPED, REASON).get(1));
    }

    @Override
    public void save(CabinetName cabinet, Latch latch) throws IOException {
        note(cabinet)
                .write(
                        latch.trippedReason()
                                .map(reason -> List.of(TRIPPED, REASON + reason))
                                .orElse(List.of(CLEAR)));
        // After the latch: a mark without its file would mean tripped.
        if (files.read(mark(cabinet)).isEmpty()) {
            files.writeAndSync(
                    mark(cabinet),
                    "a latch file was made for this cabinet\n".getBytes(StandardCharsets.UTF_8));
            files.syncFolder(folder);
        }
    }

    private CabinetNote note(CabinetName cabinet) {
        return CabinetNote.in(files, folder, "latch", FORM, cabinet);
    }

    private Path mark(CabinetName cabinet) {
        return CabinetFileNames.file(folder, "latch", cabinet, ".made");
    }
}
