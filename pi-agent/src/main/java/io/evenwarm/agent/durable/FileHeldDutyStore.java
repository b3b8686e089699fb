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
        CabinetNote note = note(cabinet);
        return note.readIfSound(
                noted -> held(note.values(noted, DUTY, SET_POINT, WALL, TRUSTED)),
                LOG,
                "which duty held it can't be read, so control finds it anew");
    }

    private static HeldDuty held(List<String> values) {
        return new HeldDuty(
                Double.parseDouble(values.get(0)),
                Double.parseDouble(values.get(1)),
                Instant.parse(values.get(2)),
                Boolean.parseBoolean(values.get(3)));
    }

    @Override
    public void save(CabinetName cabinet, HeldDuty held) throws IOException {
        note(cabinet)
                .write(
                        List.of(
                                DUTY + held.duty(),
                                SET_POINT + held.setPointCelsius(),
                                WALL + held.wall(),
                                TRUSTED + held.isWallTrusted()));
    }

    private CabinetNote note(CabinetName cabinet) {
        return CabinetNote.in(SmallFiles.real(), folder, "held-duty", FORM, cabinet);
    }
}
