package io.evenwarm.agent.durable;

import io.evenwarm.agent.port.Learned;
import io.evenwarm.agent.port.LearnedStore;
import io.evenwarm.message.CabinetName;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * What guard has learned in small synced files, one a cabinet. A file that is not sound, or of
 * another cabinet, is renamed to {@code ….set-aside}, over an earlier one, and the log says so. To
 * let guard learn anew on purpose, after heater, fan or probes were changed, delete the file while
 * the agent is stopped.
 *
 * <p>Thread-safe as long as one thread saves.
 */
public final class FileLearnedStore implements LearnedStore {

    private static final System.Logger LOG = System.getLogger(FileLearnedStore.class.getName());
    private static final String FORM = "evenwarm learned 1";
    private static final String ABOUT = "about ";

    private final Path folder;
    private final SmallFiles files;

    /**
     * @param folder the agent's state folder; must exist
     */
    public FileLearnedStore(Path folder) {
        this(folder, SmallFiles.real());
    }

    FileLearnedStore(Path folder, SmallFiles files) {
        this.folder = folder;
        this.files = files;
    }

    @Override
    public Optional<Learned> load(CabinetName cabinet) {
        try {
            CabinetNote note = note(cabinet);
            Optional<List<String>> noted = note.read();
            return noted.isPresent() ? Optional.of(parsed(note, noted.get())) : Optional.empty();
        } catch (IOException | RuntimeException e) {
            setAside(cabinet, String.valueOf(e.getMessage()));
            return Optional.empty();
        }
    }

    private static Learned parsed(CabinetNote note, List<String> noted) throws IOException {
        String about = note.values(noted.stream().limit(1).toList(), ABOUT).get(0);
        SortedMap<String, List<Double>> rows = new TreeMap<>();
        for (String line : noted.subList(1, noted.size())) {
            String[] words = line.split(" ", -1);
            List<Double> numbers = new ArrayList<>();
            for (int i = 1; i < words.length; i++) {
                numbers.add(Double.parseDouble(words[i]));
            }
            rows.put(words[0], numbers);
        }
        return new Learned(about, rows);
    }

    @Override
    public void save(CabinetName cabinet, Learned learned) throws IOException {
        List<String> lines = new ArrayList<>();
        lines.add(ABOUT + learned.about());
        learned.rows()
                .forEach(
                        (name, numbers) -> {
                            StringBuilder line = new StringBuilder(name);
                            numbers.forEach(number -> line.append(' ').append(text(number)));
                            lines.add(line.toString());
                        });
        note(cabinet).write(lines);
    }

    /** Seven digits are more than any of it is known to. */
    private static String text(double number) {
        return number == StrictMath.rint(number) && Math.abs(number) < 1e9
                ? Long.toString((long) number)
                : Float.toString((float) number);
    }

    @Override
    public void setAside(CabinetName cabinet, String why) {
        Path path = note(cabinet).path();
        Path kept = path.resolveSibling(path.getFileName() + ".set-aside");
        String where;
        try {
            files.rename(path, kept);
            where = "it now is " + kept;
        } catch (IOException e) {
            where = "it could not be renamed to " + kept + ": " + e.getMessage();
        }
        LOG.log(
                System.Logger.Level.WARNING,
                "cabinet {0}: what guard has learned of it can''t be used, so that it learns anew:"
                        + " {1}; {2}",
                cabinet,
                why,
                where);
    }

    private CabinetNote note(CabinetName cabinet) {
        return CabinetNote.in(files, folder, "learned", FORM, cabinet);
    }
}
