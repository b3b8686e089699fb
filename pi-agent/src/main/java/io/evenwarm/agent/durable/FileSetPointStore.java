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
    private static final String CABINET = "cabinet ";
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
        return note(cabinet)
                .readIfSound(
                        lines -> parsed(cabinet, lines),
                        LOG,
                        "cabinet "
                                + cabinet
                                + ": the commanded set point can't be read, the configured one"
                                + " counts");
    }

    private Temperature parsed(CabinetName cabinet, List<String> lines) throws IOException {
        boolean isOurs =
                lines.size() == 3
                        && lines.get(0).equals(FORM)
                        && lines.get(1).equals(CABINET + cabinet.value())
                        && lines.get(2).startsWith(VALUE);
        if (!isOurs) {
            throw new IOException(
                    note(cabinet).path()
                            + " is not a set point of cabinet "
                            + cabinet
                            + " but has "
                            + lines);
        }
        // Refuses NaN and what no thermometer can mean.
        return new Temperature(Double.parseDouble(lines.get(2).substring(VALUE.length())));
    }

    @Override
    public void save(CabinetName cabinet, Temperature setPoint) throws IOException {
        note(cabinet).write(List.of(FORM, CABINET + cabinet.value(), VALUE + setPoint.celsius()));
    }

    private NoteFile note(CabinetName cabinet) {
        return new NoteFile(files, CabinetFileNames.file(folder, "set-point", cabinet, ".txt"));
    }
}
