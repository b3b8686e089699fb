package io.evenwarm.settings;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.tomlj.TomlArray;
import org.tomlj.TomlPosition;
import org.tomlj.TomlTable;

/**
 * One table of a TOML file. Each read either gives a value that is allowed or adds a fault and
 * gives nothing, so that one pass over a file finds all its faults.
 *
 * <p>A key that was never asked for is unknown: call {@link #rejectUnknownKeys()} on the top table
 * at the end.
 */
public final class TomlSection {

    private static final int MAX_SHOWN = 80;

    private final TomlTable table;
    private final String file;
    private final String path;
    private final int line;
    private final SettingsFaults faults;
    private final Set<String> known = new LinkedHashSet<>();
    private final Map<String, List<TomlSection>> children = new LinkedHashMap<>();

    TomlSection(TomlTable table, String file, String path, int line, SettingsFaults faults) {
        this.table = table;
        this.file = file;
        this.path = path;
        this.line = line;
        this.faults = faults;
    }

    /** Where this table is, for example {@code cabinet "north"}; empty for the whole file. */
    public String path() {
        return path;
    }

    /** The line on which this table begins, from 1. */
    public int line() {
        return line;
    }

    /** Whether the key stands in the file. */
    public boolean has(String key) {
        return table.contains(List.of(key));
    }

    /** Says that these keys may stand here, though they are not always asked for. */
    public void allow(String... keys) {
        known.addAll(List.of(keys));
    }

    /** A text, or empty when it is not there. */
    public Optional<String> text(String key) {
        return value(key, String.class, "a text in quotes");
    }

    /** A text that must be there. */
    public Optional<String> requiredText(String key, String allowed) {
        return required(key, allowed) ? text(key) : Optional.empty();
    }

    /**
     * A text with a meaning of its own.
     *
     * @param allowed what may stand there, for the fault
     * @param meaning turns it into a value; throws IllegalArgumentException when it is not allowed
     */
    public <T> Optional<T> parsed(String key, String allowed, Function<String, T> meaning) {
        Optional<String> text = text(key);
        if (text.isEmpty()) {
            return Optional.empty();
        }
        try {
            return Optional.of(meaning.apply(text.get()));
        } catch (IllegalArgumentException e) {
            fault(key, allowed);
            return Optional.empty();
        }
    }

    /** As {@link #parsed}, for a key that must be there. */
    public <T> Optional<T> requiredParsed(String key, String allowed, Function<String, T> meaning) {
        return required(key, allowed) ? parsed(key, allowed, meaning) : Optional.empty();
    }

    /** One of a few words; a slip gets a suggestion. */
    public Optional<String> word(String key, List<String> words) {
        Optional<String> text = text(key);
        if (text.isPresent() && !words.contains(text.get())) {
            fault(
                    key,
                    "one of "
                            + String.join(", ", words)
                            + Suggestion.nearest(text.get(), words)
                                    .map(word -> " (did you mean " + word + "?)")
                                    .orElse(""));
            return Optional.empty();
        }
        return text;
    }

    /** As {@link #word}, for a key that must be there. */
    public Optional<String> requiredWord(String key, List<String> words) {
        return required(key, "one of " + String.join(", ", words))
                ? word(key, words)
                : Optional.empty();
    }

    /** A number, whole or not, or empty when it is not there. */
    public OptionalDouble number(String key, NumberRange range) {
        Optional<Number> number = value(key, Number.class, range.words());
        if (number.isEmpty()) {
            return OptionalDouble.empty();
        }
        double value = number.get().doubleValue();
        if (!range.allows(value)) {
            fault(key, range.words());
            return OptionalDouble.empty();
        }
        return OptionalDouble.of(value);
    }

    /** A number, or {@code otherwise} when it is not there or not allowed. */
    public double number(String key, NumberRange range, double otherwise) {
        return number(key, range).orElse(otherwise);
    }

    /** A number that must be there. */
    public OptionalDouble requiredNumber(String key, NumberRange range) {
        return required(key, range.words()) ? number(key, range) : OptionalDouble.empty();
    }

    /** A whole number, or empty when it is not there. */
    public OptionalInt whole(String key, int min, int max, String unit) {
        String allowed =
                "a whole number from " + min + " to " + max + (unit.isEmpty() ? "" : " " + unit);
        Optional<Long> number = value(key, Long.class, allowed);
        if (number.isEmpty()) {
            return OptionalInt.empty();
        }
        long value = number.get();
        if (value < min || value > max) {
            fault(key, allowed);
            return OptionalInt.empty();
        }
        return OptionalInt.of((int) value);
    }

    /** Yes or no, or {@code otherwise} when it is not there. */
    public boolean flag(String key, boolean otherwise) {
        return value(key, Boolean.class, "true or false").orElse(otherwise);
    }

    /** A list of texts; empty when it is not there. */
    public List<String> texts(String key) {
        String allowed = "a list of texts, for example [\"one\", \"two\"]";
        Optional<TomlArray> array = value(key, TomlArray.class, allowed);
        if (array.isEmpty()) {
            return List.of();
        }
        List<String> texts = new ArrayList<>();
        for (Object item : array.get().toList()) {
            if (item instanceof String text) {
                texts.add(text);
            } else {
                faultWithFound(key, describe(item), allowed);
            }
        }
        return List.copyOf(texts);
    }

    /** A table, or empty when it is not there. Asked again, it is the same one. */
    public Optional<TomlSection> section(String key) {
        Optional<TomlTable> inner = value(key, TomlTable.class, "a table: [" + key + "]");
        return inner.map(
                there ->
                        children.computeIfAbsent(
                                        key, absent -> List.of(child(there, key, lineOf(key))))
                                .get(0));
    }

    /** The tables of a repeated table, {@code [[key]]}, in their order; the same ones each time. */
    public List<TomlSection> sections(String key) {
        String allowed = "repeated tables: [[" + key + "]]";
        Optional<TomlArray> array = value(key, TomlArray.class, allowed);
        if (array.isEmpty()) {
            return List.of();
        }
        return children.computeIfAbsent(key, absent -> repeated(key, array.get(), allowed));
    }

    private List<TomlSection> repeated(String key, TomlArray array, String allowed) {
        List<TomlSection> sections = new ArrayList<>();
        for (int i = 0; i < array.size(); i++) {
            if (array.get(i) instanceof TomlTable inner) {
                int at = lineOr(array.inputPositionOf(i), lineOf(key));
                sections.add(child(inner, label(key, inner, i), at));
            } else {
                faultWithFound(key, describe(array.get(i)), allowed);
            }
        }
        return List.copyOf(sections);
    }

    /** Adds a fault for what stands at this key, or for its not being there. */
    public void fault(String key, String allowed) {
        faultWithFound(key, foundAt(key), allowed);
    }

    /** Adds a fault with words of its own for what was found. */
    public void faultWithFound(String key, String found, String allowed) {
        add(SettingsFault.Severity.ERROR, key, found, allowed);
    }

    /** Adds a warning: what was found, and a sentence on what it means and what to do. */
    public void warn(String key, String found, String sentence) {
        add(SettingsFault.Severity.WARNING, key, found, sentence);
    }

    /** The line of the key, or of this table when the key is not there. */
    public int lineOf(String key) {
        return has(key) ? lineOr(table.inputPositionOf(List.of(key)), line) : line;
    }

    /** Adds a fault for every key, here and below, that nothing asked for. */
    public void rejectUnknownKeys() {
        for (String key : table.keySet()) {
            if (!known.contains(key)) {
                String allowed =
                        Suggestion.nearest(key, known)
                                .map(meant -> meant + " (did you mean that?)")
                                .orElse(
                                        known.isEmpty()
                                                ? "nothing here"
                                                : "one of " + String.join(", ", known));
                add(SettingsFault.Severity.ERROR, key, "an unknown key", allowed);
            }
        }
        children.values().forEach(tables -> tables.forEach(TomlSection::rejectUnknownKeys));
    }

    /** What stands at this key, as a person would write it. */
    public String foundAt(String key) {
        return has(key) ? describe(table.get(List.of(key))) : "nothing";
    }

    /** Text for a fault: quoted parts stay short and on one line. */
    static String shown(String text) {
        String line = text.replaceAll("\\p{Cntrl}", "·");
        return line.length() <= MAX_SHOWN ? line : line.substring(0, MAX_SHOWN) + "…";
    }

    private boolean required(String key, String allowed) {
        known.add(key);
        if (has(key)) {
            return true;
        }
        fault(key, allowed);
        return false;
    }

    private <T> Optional<T> value(String key, Class<T> type, String allowed) {
        known.add(key);
        Object value = table.get(List.of(key));
        if (value == null) {
            return Optional.empty();
        }
        if (!type.isInstance(value)) {
            fault(key, allowed);
            return Optional.empty();
        }
        return Optional.of(type.cast(value));
    }

    private TomlSection child(TomlTable inner, String label, int at) {
        String childPath = path.isEmpty() ? label : path + " / " + label;
        return new TomlSection(inner, file, childPath, at, faults);
    }

    /** A table with a name is called by it: people count badly from 0. */
    private static String label(String key, TomlTable inner, int index) {
        Object name = inner.get(List.of("name"));
        return name instanceof String text
                ? key + " \"" + shown(text) + "\""
                : key + " number " + (index + 1);
    }

    private void add(SettingsFault.Severity severity, String key, String found, String allowed) {
        String where = path.isEmpty() ? key : key.isEmpty() ? path : path + " / " + key;
        faults.add(new SettingsFault(severity, file, lineOf(key), where, found, allowed));
    }

    private static int lineOr(@Nullable TomlPosition position, int otherwise) {
        return position == null ? otherwise : position.line();
    }

    private static String describe(@Nullable Object value) {
        if (value instanceof String text) {
            return "\"" + shown(text) + "\"";
        }
        if (value instanceof Double number) {
            return NumberRange.plain(number);
        }
        if (value instanceof TomlArray array) {
            return array.isEmpty() ? "an empty list" : "a list of " + array.size();
        }
        if (value instanceof TomlTable) {
            return "a table";
        }
        return String.valueOf(value);
    }
}
