package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmKey;
import io.evenwarm.monitor.alarm.AlarmWords;
import io.evenwarm.monitor.alarm.Fact;
import io.evenwarm.monitor.alarm.Subject;
import io.evenwarm.monitor.alert.Drills;
import io.evenwarm.monitor.live.LiveView;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.outside.SwitchFeed;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;

/** What only the monitor as a whole knows of itself, for the alarms. Waits for nothing. */
final class MonitorFacts implements Supplier<List<Fact>> {

    /** One call that is lost on the way is nobody's trouble. */
    private static final int FAILED_CALLS_MAX = 2;

    private final LiveView live;
    private final HistoryStore store;
    private final Optional<NoticeStation> notices;
    private final ClockWatch clock = new ClockWatch();
    private volatile Optional<SwitchFeed> feed = Optional.empty();
    private volatile Optional<Drills> drills = Optional.empty();
    private final Supplier<List<Fact>> longRecord;

    /**
     * @param longRecord what cabinets' long records say
     */
    MonitorFacts(
            LiveView live,
            HistoryStore store,
            Optional<NoticeStation> notices,
            Supplier<List<Fact>> longRecord) {
        this.longRecord = longRecord;
        this.live = live;
        this.store = store;
        this.notices = notices;
    }

    /** From now on the feed is looked at, too; it needs alarms at work, and so begins later. */
    void watch(SwitchFeed switchFeed) {
        feed = Optional.of(switchFeed);
    }

    /** From now on drills are known; they need alarms at work, too. */
    void watch(Drills exercises) {
        drills = Optional.of(exercises);
    }

    /** Asked by the alarms' thread only. */
    @Override
    public List<Fact> get() {
        List<Fact> facts = new ArrayList<>();
        facts.add(
                fact(
                        AlarmCodes.STORE_FAILING,
                        store.trouble(),
                        "What the monitor must keep is not kept: ",
                        "Notices go out all the same; agents keep their journals.",
                        "Look whether the disk is full or failing, and at the monitor's log."));
        facts.add(
                fact(
                        FindingCode.CLOCK_UNTRUSTED,
                        clock.look(
                                live.cabinets(),
                                SystemClock.wall().now(),
                                SystemClock.monotonic().nanos()),
                        "",
                        "Durations and delays don't depend on it.",
                        "Set this machine's clock, and see that a time service keeps it."));
        if (notices.isPresent()) {
            facts.add(
                    fact(
                            AlarmCodes.NOTICES_FAILING,
                            notices.get().trouble(),
                            "Notices to people don't go out: ",
                            "The monitor tries again and again.",
                            "Look at the ways to people: evenwarm notices test PERSON."));
        }
        feed.ifPresent(
                there ->
                        facts.add(
                                fact(
                                        AlarmCodes.SWITCH_NOT_FED,
                                        trouble(there.state()),
                                        "The outside switch is ",
                                        "It will speak by itself when no call comes.",
                                        "Put right what is named here; then it is called again.")));
        drills.ifPresent(there -> facts.addAll(there.facts()));
        facts.addAll(longRecord.get());
        return facts;
    }

    private static Optional<String> trouble(SwitchFeed.State state) {
        boolean isTrouble =
                switch (state.call()) {
                    case NONE_YET, TAKEN -> false;
                    case WITHHELD -> true;
                    case FAILED -> state.inARow() >= FAILED_CALLS_MAX;
                };
        return isTrouble ? Optional.of(state.words()) : Optional.empty();
    }

    private static Fact fact(
            FindingCode code,
            Optional<String> trouble,
            String before,
            String action,
            String advice) {
        return new Fact(
                AlarmKey.of(Subject.MONITOR, code),
                trouble.isPresent(),
                new AlarmWords(before + trouble.orElse(""), action, advice));
    }
}
