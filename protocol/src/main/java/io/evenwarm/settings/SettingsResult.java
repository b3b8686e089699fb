package io.evenwarm.settings;

import java.util.List;
import java.util.function.Function;

/**
 * What came of reading a file that a person wrote.
 *
 * @param <T> what the file describes
 */
public sealed interface SettingsResult<T> {

    /** What the person should know of, though it forbids nothing. */
    List<SettingsFault> warnings();

    /** Handles every case. */
    <R> R fold(Function<Accepted<T>, R> accepted, Function<Rejected<T>, R> rejected);

    /** The file can be used. */
    record Accepted<T>(T value, List<SettingsFault> warnings) implements SettingsResult<T> {
        public Accepted {
            warnings = List.copyOf(warnings);
        }

        @Override
        public <R> R fold(Function<Accepted<T>, R> accepted, Function<Rejected<T>, R> rejected) {
            return accepted.apply(this);
        }
    }

    /** The file can't be used; all its faults. */
    record Rejected<T>(List<SettingsFault> errors, List<SettingsFault> warnings)
            implements SettingsResult<T> {
        public Rejected {
            errors = List.copyOf(errors);
            warnings = List.copyOf(warnings);
        }

        @Override
        public <R> R fold(Function<Accepted<T>, R> accepted, Function<Rejected<T>, R> rejected) {
            return rejected.apply(this);
        }
    }
}
