package io.evenwarm.agent.durable;

import io.evenwarm.agent.port.HeldDuty;
import io.evenwarm.agent.port.HeldDutyStore;
import io.evenwarm.message.CabinetName;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * Which duty last held each cabinet, in small synced files, one a cabinet. A file that is not
 * there, or not sound, means that control finds the duty anew, and the log says so.
 *
 * <p>Thread-safe as long as one thread saves.
 */
public final class FileHeldDutyStore implements HeldDutyStore {

    private static final System.Logger LOG = System.getLogger(FileHeldDutyStore.class.getName());
    private static final String FORM = "evenwarm held duty 1";
    private static final String CABINET = "cabinet ";
    private static final String DUTY = "duty ";
    private static final String SET_POINT = "celsius ";
    private static final String WALL = "wall ";
    private static final String TRUSTED = "wall trusted ";

    private final Path folder;

    /**
     * @param folder the agent's state folder; must exist
     */
    public FileHeldDutyStore(Path folder) {
        this.folder = folder;
    }

    @Override
    public Optional<HeldDuty> load(CabinetName cabinet) {
        return note(cabinet)
                .readIfSound(
                        lines -> parsed(cabinet, lines),
                        LOG,
                        "cabinet "
                                + cabinet
                                + ": which duty held it can't be read, so control finds it anew");
    }

    private static HeldDuty parsed(CabinetName cabinet, List<String> lines) throws IOException {
        boolean isOurs =
                lines.size() == 6
                        && lines.get(0).equals(FORM)
                        && lines.get(1).equals(CABINET + cabinet.value())
                        && lines.get(2).startsWith(DUTY)
                        && lines.get(3).startsWith(SET_POINT)
                        && lines.get(4).startsWith(WALL)
                        && lines.get(5).startsWith(TRUSTED);
        if (!isOurs) {
            throw new IOException("no duty of cabinet " + cabinet + " but " + lines);
        }
        return new HeldDuty(
                Double.parseDouble(lines.get(2).substring(DUTY.length())),
                Double.parseDouble(lines.get(3).substring(SET_POINT.length())),
                Instant.parse(lines.get(4).substring(WALL.length())),
                Boolean.parseBoolean(lines.get(5).substring(TRUSTED.length())));
    }

    @Override
    public void save(CabinetName cabinet, HeldDuty held) throws IOException {
        note(cabinet)
                .write(
                        List.of(
                                FORM,
                                CABINET + cabinet.value(),
                                DUTY + held.duty(),
                                SET_POINT + held.setPointCelsius(),
                                WALL + held.wall(),
                                TRUSTED + held.isWallTrusted()));
    }

    private NoteFile note(CabinetName cabinet) {
        return new NoteFile(
                SmallFiles.real(), CabinetFileNames.file(folder, "held-duty", cabinet, ".txt"));
    }
}
