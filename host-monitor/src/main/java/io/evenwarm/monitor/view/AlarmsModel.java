package io.evenwarm.monitor.view;

import io.evenwarm.monitor.history.CabinetKey;
import java.util.List;
import java.util.Map;

/**
 * The alarms in words, ready to be shown.
 *
 * @param open those that want attention, the most pressing first
 * @param quiet those that are put away or explained
 * @param summary how many there are
 * @param cards the most pressing one of each cabinet that has any
 * @param times in which zone the times are
 * @param log newest first
 * @param logNote what stands in place of an empty log
 * @param note why something was not done; empty when all was
 */
record AlarmsModel(
        List<Row> open,
        List<Row> quiet,
        String summary,
        Map<CabinetKey, CardAlarm> cards,
        String times,
        List<LogRow> log,
        String logNote,
        String note) {

    AlarmsModel {
        open = List.copyOf(open);
        quiet = List.copyOf(quiet);
        cards = Map.copyOf(cards);
        log = List.copyOf(log);
    }

    /** What may be done about an alarm beside acknowledging it. */
    enum May {
        RESET,
        SHELVE,
        UNSHELVE,
        RETURN_TO_SERVICE
    }

    /**
     * One alarm.
     *
     * @param standing how pressing, and its state
     * @param since since when, and how long
     * @param lasting how long alone: after midnight the time of a begin needs its day, too
     * @param timeLeft how long the eggs have; empty where that is not limited
     * @param putAway who put it away, until when and why, or that another one explains it; else
     *     empty
     * @param isNew whether a person still has to say that it was seen
     * @param ofCause how many alarms of its cause still have to be, itself included
     */
    record Row(
            String id,
            CardState.Shape shape,
            String standing,
            String headline,
            String subject,
            String since,
            String lasting,
            String timeLeft,
            String advice,
            String evidence,
            String putAway,
            boolean isNew,
            int ofCause,
            List<May> may) {

        Row {
            may = List.copyOf(may);
        }

        /** As a screen reader should say it. */
        String spoken() {
            return headline
                    + ", "
                    + subject
                    + ", "
                    + standing
                    + ", "
                    + since
                    + ". "
                    + (timeLeft.isEmpty() ? "" : timeLeft + ". ")
                    + (putAway.isEmpty() ? "" : putAway + ". ")
                    + advice
                    + " "
                    + evidence;
        }
    }

    /** The most pressing alarm of a cabinet, on its card. */
    record CardAlarm(CardState.Shape shape, String words) {}

    /**
     * One change.
     *
     * @param what subject and trouble
     * @param change from which state to which
     * @param who who did it, and why
     */
    record LogRow(long number, String at, String what, String change, String who) {}
}
