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
        CabinetNote note = note(cabinet);
        return note.readIfSound(
                        noted -> operations(note, noted),
                        LOG,
                        "how often its heater relay has switched can't be read, so counting begins"
                                + " anew")
                .orElse(0L);
    }

    private static long operations(CabinetNote note, List<String> noted) throws IOException {
        long operations = Long.parseLong(note.values(noted, VALUE).get(0));
        if (operations < 0) {
            throw new IOException(note.path() + ": a count must be 0 or more but is " + operations);
        }
        return operations;
    }

    @Override
    public void save(CabinetName cabinet, long operations) throws IOException {
        note(cabinet).write(List.of(VALUE + operations));
    }

    private CabinetNote note(CabinetName cabinet) {
        return CabinetNote.in(SmallFiles.real(), folder, "relay-count", FORM, cabinet);
    }
}
