package io.evenwarm.monitor.app;

import io.evenwarm.settings.SettingsFault;
import java.util.List;
import java.util.function.Function;

/** What came of reading a settings file. */
sealed interface SettingsResult {

    /** Handles every case. */
    <R> R fold(Function<Accepted, R> accepted, Function<Rejected, R> rejected);

    /** The file can be used; what the keeper should know of all the same. */
    record Accepted(MonitorSettings settings, List<SettingsFault> warnings)
            implements SettingsResult {
        public Accepted {
            warnings = List.copyOf(warnings);
        }

        @Override
        public <R> R fold(Function<Accepted, R> accepted, Function<Rejected, R> rejected) {
            return accepted.apply(this);
        }
    }

    /** The file can't be used; all its faults. */
    record Rejected(List<SettingsFault> errors, List<SettingsFault> warnings)
            implements SettingsResult {
        public Rejected {
            errors = List.copyOf(errors);
            warnings = List.copyOf(warnings);
        }

        @Override
        public <R> R fold(Function<Accepted, R> accepted, Function<Rejected, R> rejected) {
            return rejected.apply(this);
        }
    }
}
