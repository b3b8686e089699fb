package io.evenwarm.agent.durable;

import io.evenwarm.agent.port.RelayCountStore;
import io.evenwarm.message.CabinetName;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;

/**
 * Counts of relay operations in small synced files, one a cabinet. A file that is not there, or not
 * sound, means that counting begins anew, and the log says so. To begin anew on purpose, after the
 * relay was changed, delete the file while the agent is stopped.
 *
 * <p>Thread-safe as long as one thread saves.
 */
public final class FileRelayCountStore implements RelayCountStore {

    private static final System.Logger LOG = System.getLogger(FileRelayCountStore.class.getName());
    private static final String FORM = "evenwarm relay count 1";
    private static final String CABINET = "cabinet ";
    private static final String VALUE = "operations ";

    private final Path folder;

    /**
     * @param folder the agent's state folder; must exist
     */
    public FileRelayCountStore(Path folder) {
        this.folder = folder;
    }

    @Override
    public long load(CabinetName cabinet) {
        return note(cabinet)
                .readIfSound(
                        lines -> parsed(cabinet, lines),
                        LOG,
                        "cabinet "
                                + cabinet
                                + ": how often its heater relay has switched can't be read, so"
                                + " counting begins anew")
                .orElse(0L);
    }

    private static long parsed(CabinetName cabinet, List<String> lines) throws IOException {
        boolean isOurs =
                lines.size() == 3
                        && lines.get(0).equals(FORM)
                        && lines.get(1).equals(CABINET + cabinet.value())
                        && lines.get(2).startsWith(VALUE);
        long operations = isOurs ? Long.parseLong(lines.get(2).substring(VALUE.length())) : -1;
        if (operations < 0) {
            throw new IOException("no count of cabinet " + cabinet + " but " + lines);
        }
        return operations;
    }

    @Override
    public void save(CabinetName cabinet, long operations) throws IOException {
        note(cabinet).write(List.of(FORM, CABINET + cabinet.value(), VALUE + operations));
    }

    private NoteFile note(CabinetName cabinet) {
        return new NoteFile(
                SmallFiles.real(), CabinetFileNames.file(folder, "relay-count", cabinet, ".txt"));
    }
}
