package io.evenwarm.agent.durable;

import io.evenwarm.agent.port.SetPointStore;
import io.evenwarm.message.CabinetName;
import io.evenwarm.quantity.Temperature;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/**
 * Commanded set points in small synced files, one a cabinet. A file that is not there, or not
 * sound, means that none was commanded: the configured one counts, and the log says so.
 *
 * <p>Thread-safe as long as one thread saves.
 */
public final class FileSetPointStore implements SetPointStore {

    private static final System.Logger LOG = System.getLogger(FileSetPointStore.class.getName());
    private static final String FORM = "evenwarm set point 1";
    private static final String VALUE = "celsius ";

    private final Path folder;
    private final SmallFiles files;

    /**
     * @param folder the agent's state folder; must exist
     */
    public FileSetPointStore(Path folder) {
        this(folder, SmallFiles.real());
    }

    FileSetPointStore(Path folder, SmallFiles files) {
        this.folder = folder;
        this.files = files;
    }

    @Override
    public Optional<Temperature> load(CabinetName cabinet) {
        CabinetNote note = note(cabinet);
        // Refuses NaN and what no thermometer can mean.
        return note.readIfSound(
                noted -> new Temperature(Double.parseDouble(note.values(noted, VALUE).get(0))),
                LOG,
                "the commanded set point can't be read, the configured one counts");
    }

    @Override
    public void save(CabinetName cabinet, Temperature setPoint) throws IOException {
        note(cabinet).write(List.of(VALUE + setPoint.celsius()));
    }

    private CabinetNote note(CabinetName cabinet) {
        return CabinetNote.in(files, folder, "set-point", FORM, cabinet);
    }
}
