package io.evenwarm.agent.durable;

import io.evenwarm.message.CabinetName;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * A note about one cabinet: its form in the first line, the cabinet in the second, and then what is
 * noted, each line beginning with its name.
 *
 * <pre>
 * evenwarm set point 1
 * cabinet north
 * celsius 31.5
 * </pre>
 *
 * @param file where it stands
 * @param form the first line: what it is, and the number of its form
 * @param cabinet whose it is
 */
record CabinetNote(NoteFile file, String form, CabinetName cabinet) {

    /** How many lines stand before what is noted. */
    static final int HEADING_LINES = 2;

    /**
     * The note of one kind about a cabinet.
     *
     * @param folder where all of that kind are kept
     * @param kind begins the file's name
     */
    static CabinetNote in(
            SmallFiles files, Path folder, String kind, String form, CabinetName cabinet) {
        return new CabinetNote(
                new NoteFile(files, CabinetFileNames.file(folder, kind, cabinet, ".txt")),
                form,
                cabinet);
    }

    Path path() {
        return file.path();
    }

    /**
     * What stands after the heading; empty when there is no such file.
     *
     * @throws IOException when it can't be read, is not sound, or has another heading; the message
     *     says where and what was found
     */
    Optional<List<String>> read() throws IOException {
        Optional<List<String>> lines = file.read();
        return lines.isPresent() ? Optional.of(noted(lines.get())) : Optional.empty();
    }

    /**
     * What stands after the heading, made something of; empty when there is none, and when it is
     * not sound, which the log tells. Never throws.
     *
     * @param log of whoever asks
     * @param what can't be read, and what comes of that, for the log
     */
    <T> Optional<T> readIfSound(NoteFile.Parsing<T> parsing, System.Logger log, String what) {
        return file.readIfSound(
                lines -> parsing.of(noted(lines)), log, "cabinet " + cabinet + ": " + what);
    }

    private List<String> noted(List<String> lines) throws IOException {
        List<String> heading = heading();
        for (int i = 0; i < heading.size(); i++) {
            String found = i < lines.size() ? lines.get(i) : "";
            if (!found.equals(heading.get(i))) {
                throw unexpected(i + 1, heading.get(i), found);
            }
        }
        return lines.subList(HEADING_LINES, lines.size());
    }

    /**
     * The values of lines that begin with these names, in this order, and no others.
     *
     * @param noted what stands after the heading
     * @param names each with its space behind it
     * @throws IOException when one is missing, another, or more than these
     */
    List<String> values(List<String> noted, String... names) throws IOException {
        List<String> values = new ArrayList<>();
        for (int i = 0; i < names.length; i++) {
            String found = i < noted.size() ? noted.get(i) : "";
            if (!found.startsWith(names[i])) {
                throw unexpected(HEADING_LINES + i + 1, names[i] + "…", found);
            }
            values.add(found.substring(names[i].length()));
        }
        if (noted.size() > names.length) {
            throw unexpected(HEADING_LINES + names.length + 1, "no more", noted.get(names.length));
        }
        return values;
    }

    /** For a line that is not what it must be, counted from 1. */
    IOException unexpected(int line, String expected, String found) {
        return new IOException(
                path()
                        + ", line "
                        + line
                        + ": expected \""
                        + expected
                        + "\" but found \""
                        + found
                        + "\"");
    }

    /** On return heading and lines survive a power cut. */
    void write(List<String> noted) throws IOException {
        List<String> lines = new ArrayList<>(heading());
        lines.addAll(noted);
        file.write(lines);
    }

    private List<String> heading() {
        return List.of(form, "cabinet " + cabinet.value());
    }
}
