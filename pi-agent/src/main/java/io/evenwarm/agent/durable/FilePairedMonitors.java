package io.evenwarm.agent.durable;

import io.evenwarm.agent.port.PairedMonitors;
import io.evenwarm.link.KeyPin;
import io.evenwarm.message.Role;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * Paired monitors in small synced files, one a monitor, in a folder of their own: taking one out
 * while another is being added can't lose either.
 *
 * <p><b>In doubt, not paired.</b> A file that is damaged or says another key than its name lets
 * nobody in, and the log says so once. Files are read at each question, so that what a command at
 * the machine takes out counts at once.
 */
public final class FilePairedMonitors implements PairedMonitors {

    private static final System.Logger LOG = System.getLogger(FilePairedMonitors.class.getName());
    private static final String FORM = "evenwarm paired monitor 1";
    private static final String KEY = "key ";
    private static final String ROLE = "role ";
    private static final String NAME = "name ";
    private static final String ENDING = ".txt";

    private final Path folder;

    /**
     * @param stateFolder the agent's state folder; must exist by the time something is added
     */
    public FilePairedMonitors(Path stateFolder) {
        this.folder = stateFolder.resolve("paired-monitors");
    }

    @Override
    public Optional<Role> roleOf(KeyPin key) {
        try {
            return read(key).map(Paired::role);
        } catch (IOException | RuntimeException e) {
            LOG.log(
                    System.Logger.Level.WARNING,
                    "a paired monitor is not let in: {0}",
                    e.getMessage());
            return Optional.empty();
        }
    }

    @Override
    public void add(Paired monitor) throws IOException {
        if (!Files.isDirectory(folder)) {
            Files.createDirectory(
                    folder,
                    PosixFilePermissions.asFileAttribute(
                            PosixFilePermissions.fromString("rwx------")));
            Path parent = folder.getParent();
            if (parent != null) {
                SmallFiles.real().syncFolder(parent);
            }
        }
        note(monitor.key())
                .write(
                        List.of(
                                FORM,
                                KEY + monitor.key(),
                                ROLE + word(monitor.role()),
                                NAME + monitor.name()));
    }

    /** Forgets one; whether it was there. On return that survives a power cut. */
    public boolean remove(KeyPin key) throws IOException {
        boolean wasThere = Files.deleteIfExists(note(key).path());
        if (wasThere) {
            SmallFiles.real().syncFolder(folder);
        }
        return wasThere;
    }

    /**
     * All of them, by name.
     *
     * @param problems is given what can't be read, in words
     */
    public List<Paired> list(List<String> problems) throws IOException {
        List<Paired> all = new ArrayList<>();
        if (!Files.isDirectory(folder)) {
            return all;
        }
        try (Stream<Path> files = Files.list(folder)) {
            for (Path file : files.sorted().toList()) {
                String name = String.valueOf(file.getFileName());
                if (!name.endsWith(ENDING)) {
                    continue;
                }
                try {
                    read(new KeyPin(name.substring(0, name.length() - ENDING.length())))
                            .ifPresent(all::add);
                } catch (IOException | RuntimeException e) {
                    problems.add(file + ": " + e.getMessage());
                }
            }
        }
        all.sort((left, right) -> left.name().compareTo(right.name()));
        return all;
    }

    private Optional<Paired> read(KeyPin key) throws IOException {
        Optional<List<String>> lines = note(key).read();
        return lines.isPresent() ? Optional.of(parsed(key, lines.get())) : Optional.empty();
    }

    private Paired parsed(KeyPin key, List<String> lines) throws IOException {
        boolean isOurs =
                lines.size() == 4
                        && lines.get(0).equals(FORM)
                        && lines.get(1).equals(KEY + key)
                        && lines.get(2).startsWith(ROLE)
                        && lines.get(3).startsWith(NAME);
        if (isOurs) {
            for (Role role : Role.values()) {
                if (lines.get(2).equals(ROLE + word(role))) {
                    return new Paired(key, role, lines.get(3).substring(NAME.length()));
                }
            }
        }
        throw new IOException(
                note(key).path() + " is no note of a paired monitor but has " + lines);
    }

    private static String word(Role role) {
        return role.name().toLowerCase(Locale.ROOT);
    }

    private NoteFile note(KeyPin key) {
        return new NoteFile(SmallFiles.real(), folder.resolve(key.sha256Hex() + ENDING));
    }
}
