package io.evenwarm.settings;

/**
 * One thing that is wrong, or doubtful, in a settings file.
 *
 * @param severity whether the file can be used in spite of it
 * @param file the file as the person named it
 * @param line counted from 1; 0 when it is about the file as a whole
 * @param key where in the file, for example {@code cabinet "north" / probe "top" / address}; empty
 *     when it is about the file as a whole
 * @param found what stands there
 * @param allowed what may stand there, or what to do instead; a whole sentence for a warning
 */
public record SettingsFault(
        Severity severity, String file, int line, String key, String found, String allowed) {

    /** How bad it is. */
    public enum Severity {
        /** The file can't be used. */
        ERROR,
        /** The file can be used, but the person should know. */
        WARNING
    }

    public boolean isError() {
        return severity == Severity.ERROR;
    }

    /** For a person, over two lines: where, then what was found and what is allowed. */
    public String text() {
        StringBuilder text = new StringBuilder(160);
        text.append(isError() ? "error" : "warning").append(": ").append(file);
        if (line > 0) {
            text.append(", line ").append(line);
        }
        if (!key.isEmpty()) {
            text.append(": ").append(key);
        }
        text.append("\n    found ").append(found).append(isError() ? "; allowed: " : "; ");
        return text.append(allowed).toString();
    }
}
