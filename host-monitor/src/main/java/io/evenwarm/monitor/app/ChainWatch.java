package io.evenwarm.monitor.app;

import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmState;
import io.evenwarm.monitor.alarm.AlarmStatus;
import io.evenwarm.monitor.alert.AlarmKeeper;
import io.evenwarm.monitor.store.HistoryStore;
import java.time.Duration;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Whether the whole chain from agents to people is well: store, alarm logic, notices, agents. The
 * outside switch is fed only then. What hangs is looked at first by what needs no lock.
 */
final class ChainWatch implements Supplier<Optional<String>> {

    /** Ten rounds that did not come. */
    private static final Duration STILL_MAX = Duration.ofSeconds(10);

    private final HistoryStore store;
    private final AlarmKeeper keeper;
    private final Optional<NoticeStation> notices;

    ChainWatch(HistoryStore store, AlarmKeeper keeper, Optional<NoticeStation> notices) {
        this.store = store;
        this.keeper = keeper;
        this.notices = notices;
    }

    /** What is unwell, in words; empty when nothing is. */
    @Override
    public Optional<String> get() {
        Optional<String> trouble = store.trouble().map(words -> "the store: " + words);
        if (trouble.isEmpty() && keeper.sinceRound().compareTo(STILL_MAX) > 0) {
            trouble =
                    Optional.of(
                            "the alarm logic has not looked for "
                                    + keeper.sinceRound().toSeconds()
                                    + " s");
        }
        if (trouble.isEmpty()) {
            trouble = notices.flatMap(NoticeStation::trouble).map(words -> "the notices: " + words);
        }
        return trouble.isPresent() ? trouble : silentAgent();
    }

    /** An agent whose alarm a person put away is away on purpose. */
    private Optional<String> silentAgent() {
        return keeper.alarms().stream()
                .filter(ChainWatch::isSilence)
                .findFirst()
                .map(alarm -> "nothing is heard of " + alarm.key().subject());
    }

    private static boolean isSilence(AlarmStatus alarm) {
        boolean isOfSilence =
                alarm.key().code().equals(AlarmCodes.AGENT_SILENT)
                        || alarm.key().code().equals(AlarmCodes.CABINET_STALE);
        return isOfSilence
                && alarm.delay().isRaised()
                && alarm.state() != AlarmState.SHELVED
                && alarm.state() != AlarmState.OUT_OF_SERVICE;
    }
}
