package io.evenwarm.agent.app;

import io.evenwarm.settings.SettingsFault;
import java.util.List;
import java.util.function.Function;

/** What came of reading a configuration file. */
sealed interface ConfigurationResult {

    /** What the keeper should know of, though it forbids nothing. */
    List<SettingsFault> warnings();

    /** Handles every case. */
    <R> R fold(Function<Accepted, R> accepted, Function<Rejected, R> rejected);

    /** The file can be run. */
    record Accepted(AgentConfiguration configuration, List<SettingsFault> warnings)
            implements ConfigurationResult {
        public Accepted {
            warnings = List.copyOf(warnings);
        }

        @Override
        public <R> R fold(Function<Accepted, R> accepted, Function<Rejected, R> rejected) {
            return accepted.apply(this);
        }
    }

    /** The file can't be run; all its faults. */
    record Rejected(List<SettingsFault> errors, List<SettingsFault> warnings)
            implements ConfigurationResult {
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
