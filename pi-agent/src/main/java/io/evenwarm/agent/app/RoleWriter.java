package io.evenwarm.agent.app;

import io.evenwarm.agent.app.CabinetSettings.ProbeWiring;
import io.evenwarm.settings.SettingsFault;
import io.evenwarm.settings.SettingsFaults;
import io.evenwarm.settings.SettingsResult;
import io.evenwarm.settings.TomlFile;
import io.evenwarm.settings.TomlSection;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * Writes a probe's role into a configuration's text. Changes the lines that it must and no other;
 * comments, order and spaces stay.
 */
final class RoleWriter {

    private static final String HEADER = "[[cabinet.probe]]";

    private final Path file;
    private final List<String> lines;
    private final String newLine;
    private final TomlSection top;

    /** What cannot be written, and what to do. */
    static final class RefusedException extends Exception {
        private static final long serialVersionUID = 1L;

        RefusedException(String message) {
            super(message);
        }
    }

    /**
     * What is to be written.
     *
     * @param cabinet its name
     * @param role what the probe is there
     * @param name its name; empty for that of the probe it replaces, or else the role's
     * @param wiring how it is reached
     * @param mayReplace whether what stands there may be changed
     */
    record Wish(
            String cabinet,
            ProbeRole role,
            Optional<String> name,
            ProbeWiring wiring,
            boolean mayReplace) {}

    /**
     * A changed text.
     *
     * @param words what was changed, for a person
     */
    record Change(String text, String words) {}

    private RoleWriter(Path file, String text, TomlSection top) {
        this.file = file;
        this.newLine = text.contains("\r\n") ? "\r\n" : "\n";
        this.lines = new ArrayList<>(List.of(text.split("\r?\n", -1)));
        this.top = top;
    }

    /**
     * Changes a text.
     *
     * @throws RefusedException when it can't or must not be changed so
     */
    static Change change(Path file, String text, Wish wish) throws RefusedException {
        TomlSection top =
                TomlFile.parse(file.toString(), text, new SettingsFaults())
                        .orElseThrow(() -> new RefusedException(file + " is not TOML"));
        Change change = new RoleWriter(file, text, top).change(wish);
        // Where something was wrong before, something else may be: a cabinet grows probe by probe.
        Set<String> wrongBefore =
                faults(file, text).stream().map(SettingsFault::key).collect(Collectors.toSet());
        List<String> worse =
                faults(file, change.text()).stream()
                        .filter(fault -> !wrongBefore.contains(fault.key()))
                        .map(fault -> fault.key() + ": " + fault.found() + "; " + fault.allowed())
                        .toList();
        if (!worse.isEmpty()) {
            throw new RefusedException(
                    "that would make " + file + " faulty: " + String.join("; ", worse));
        }
        return change;
    }

    private static List<SettingsFault> faults(Path file, String text) {
        return ConfigurationReader.parse(file, text)
                .fold(accepted -> List.of(), SettingsResult.Rejected::errors);
    }

    private Change change(Wish wish) throws RefusedException {
        TomlSection cabinet = cabinet(wish.cabinet());
        checkElsewhere(cabinet, wish);
        Optional<TomlSection> same = withAddress(cabinet, wish.wiring().address());
        if (same.isPresent()) {
            return changeRole(same.get(), wish);
        }
        Optional<TomlSection> holder = holder(cabinet, wish);
        if (holder.isPresent()) {
            return changeAddress(holder.get(), wish);
        }
        return append(cabinet, wish);
    }

    private TomlSection cabinet(String name) throws RefusedException {
        List<TomlSection> cabinets = top.sections("cabinet");
        return cabinets.stream()
                .filter(cabinet -> cabinet.text("name").equals(Optional.of(name)))
                .findFirst()
                .orElseThrow(
                        () ->
                                new RefusedException(
                                        file
                                                + " has no cabinet \""
                                                + name
                                                + "\"; it has "
                                                + String.join(
                                                        ", ",
                                                        cabinets.stream()
                                                                .map(
                                                                        each ->
                                                                                each.text("name")
                                                                                        .orElse(
                                                                                                "?"))
                                                                .toList())));
    }

    private static Optional<TomlSection> withAddress(TomlSection cabinet, String address) {
        return cabinet.sections("probe").stream()
                .filter(probe -> probe.text("address").equals(Optional.of(address)))
                .findFirst();
    }

    /** A probe sits in one cabinet; which of two is right only a person knows. */
    private void checkElsewhere(TomlSection cabinet, Wish wish) throws RefusedException {
        for (TomlSection other : top.sections("cabinet")) {
            if (other != cabinet && withAddress(other, wish.wiring().address()).isPresent()) {
                throw new RefusedException(
                        wish.wiring().address()
                                + " is a probe of "
                                + other.path()
                                + ": take it out of the file there first");
            }
        }
    }

    private static boolean isGuard(TomlSection probe) {
        return probe.flag("guard", false);
    }

    private static String called(TomlSection probe) {
        return probe.text("name").orElse("on line " + probe.line());
    }

    /** The probe that has the role now. */
    private static Optional<TomlSection> holder(TomlSection cabinet, Wish wish)
            throws RefusedException {
        List<TomlSection> probes = cabinet.sections("probe");
        if (wish.name().isPresent()) {
            return probes.stream()
                    .filter(probe -> probe.text("name").equals(wish.name()))
                    .findFirst();
        }
        List<TomlSection> holders =
                probes.stream()
                        .filter(
                                probe ->
                                        wish.role() == ProbeRole.GUARD
                                                ? isGuard(probe)
                                                : !isGuard(probe)
                                                        && probe.text("position")
                                                                .equals(
                                                                        Optional.of(
                                                                                wish.role()
                                                                                        .position())))
                        .toList();
        if (wish.role().mayBeSeveral() || holders.isEmpty()) {
            return Optional.empty();
        }
        if (holders.size() > 1) {
            throw new RefusedException(
                    "the cabinet has several such probes ("
                            + String.join(", ", holders.stream().map(RoleWriter::called).toList())
                            + "): say which one with --name");
        }
        return Optional.of(holders.get(0));
    }

    private Change changeRole(TomlSection probe, Wish wish) throws RefusedException {
        boolean wantsGuard = wish.role() == ProbeRole.GUARD;
        String position =
                wantsGuard
                        ? probe.text("position").orElse(wish.role().position())
                        : wish.role().position();
        if (probe.text("position").equals(Optional.of(position)) && isGuard(probe) == wantsGuard) {
            return new Change(
                    text(), "probe " + called(probe) + " is that already; nothing was changed");
        }
        demandSaySo(
                wish,
                "it is probe "
                        + called(probe)
                        + " of this cabinet already, at \""
                        + probe.text("position").orElse("?")
                        + "\"");
        boolean changesGuard = isGuard(probe) != wantsGuard;
        // What is there is changed first: a line that is put in moves those below it.
        if (probe.has("position")) {
            set(probe, "position", "\"" + position + "\"");
        }
        if (changesGuard) {
            set(probe, "guard", wantsGuard ? "true" : "false");
        }
        if (!probe.has("position")) {
            set(probe, "position", "\"" + position + "\"");
        }
        return new Change(
                text(),
                "probe "
                        + called(probe)
                        + " of "
                        + wish.cabinet()
                        + " is now "
                        + wish.role().word());
    }

    private Change changeAddress(TomlSection probe, Wish wish) throws RefusedException {
        demandSaySo(
                wish,
                "probe "
                        + called(probe)
                        + " is that already, at "
                        + probe.text("address").orElse("no address"));
        for (boolean isThere : new boolean[] {true, false}) {
            if (probe.has("address") == isThere) {
                set(probe, "address", "\"" + wish.wiring().address() + "\"");
            }
            if (probe.has("driver") == isThere) {
                set(probe, "driver", "\"" + wish.wiring().driver().word() + "\"");
            }
        }
        return new Change(
                text(),
                "probe "
                        + called(probe)
                        + " of "
                        + wish.cabinet()
                        + " is now at "
                        + wish.wiring().address());
    }

    private static void demandSaySo(Wish wish, String what) throws RefusedException {
        if (!wish.mayReplace()) {
            throw new RefusedException(what + ". To change that, say --replace");
        }
    }

    /** Changes a key's value where it stands, or puts the key in under its table's header. */
    private void set(TomlSection probe, String key, String value) throws RefusedException {
        if (!probe.has(key)) {
            int header = probe.line() - 1;
            lines.add(header + 1, indent(lines.get(header)) + key + " = " + value);
            return;
        }
        int at = probe.lineOf(key) - 1;
        Matcher matcher =
                Pattern.compile(
                                "(\\s*"
                                        + key
                                        + "\\s*=\\s*)(?:\"[^\"]*\"|'[^']*'|true|false)(\\s*(?:#.*)?)")
                        .matcher(lines.get(at));
        if (!matcher.matches()) {
            throw new RefusedException(
                    file
                            + ", line "
                            + (at + 1)
                            + ": "
                            + key
                            + " is written in a way that is not changed here; change it by hand to "
                            + value);
        }
        lines.set(at, matcher.group(1) + value + matcher.group(2));
    }

    private Change append(TomlSection cabinet, Wish wish) throws RefusedException {
        List<TomlSection> probes = cabinet.sections("probe");
        TomlSection last = probes.isEmpty() ? cabinet : probes.get(probes.size() - 1);
        int header = last.line() - 1;
        String above = lines.get(header).strip();
        if (!above.startsWith("[[")) {
            throw new RefusedException(
                    file
                            + ", line "
                            + last.line()
                            + ": no [[…]] stands there; add the probe by hand");
        }
        String indent = probes.isEmpty() ? "  " : indent(lines.get(header));
        String name = wish.name().orElseGet(() -> freeName(probes, wish.role().word()));
        List<String> block = new ArrayList<>();
        block.add("");
        block.add(indent + HEADER);
        block.add(indent + "name = \"" + name + "\"");
        block.add(indent + "position = \"" + wish.role().position() + "\"");
        block.add(indent + "driver = \"" + wish.wiring().driver().word() + "\"");
        block.add(indent + "address = \"" + wish.wiring().address() + "\"");
        if (wish.role() == ProbeRole.GUARD) {
            block.add(indent + "guard = true");
        }
        lines.addAll(endOfTable(header), block);
        return new Change(
                text(),
                "probe " + name + " of " + wish.cabinet() + " was added as " + wish.role().word());
    }

    /** After the table's last key: a comment above the next header belongs to that. */
    private int endOfTable(int header) {
        int end = header + 1;
        while (end < lines.size() && !lines.get(end).strip().startsWith("[")) {
            end++;
        }
        while (end > header + 1
                && (lines.get(end - 1).isBlank() || lines.get(end - 1).strip().startsWith("#"))) {
            end--;
        }
        return end;
    }

    private static String freeName(List<TomlSection> probes, String word) {
        List<String> names = probes.stream().map(probe -> probe.text("name").orElse("")).toList();
        String name = word;
        for (int i = 2; names.contains(name); i++) {
            name = word + " " + i;
        }
        return name;
    }

    private static String indent(String line) {
        return line.substring(0, line.length() - line.stripLeading().length());
    }

    private String text() {
        return String.join(newLine, lines);
    }
}
