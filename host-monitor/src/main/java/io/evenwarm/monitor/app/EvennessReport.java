package io.evenwarm.monitor.app;

import io.evenwarm.monitor.evenness.ComparisonResult;
import io.evenwarm.monitor.evenness.SurveyResult;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.Optional;

/**
 * All that a keeper asked for, ready to be written in any form.
 *
 * @param survey of the span asked for
 * @param against the other one, and what came of comparing the two
 */
record EvennessReport(
        CabinetKey key,
        TimeSpan span,
        SurveyResult survey,
        Optional<Against> against,
        Wording wording,
        ZoneId zone) {

    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm", Locale.ROOT);

    /**
     * A survey to compare with.
     *
     * @param isEarlier whether it is what was before; else what was after
     * @param comparison empty where one of the two surveys was withheld
     */
    record Against(
            TimeSpan span,
            SurveyResult survey,
            boolean isEarlier,
            Optional<ComparisonResult> comparison) {}

    String words(TimeSpan of) {
        return TIME.format(of.from().atZone(zone)) + " to " + TIME.format(of.to().atZone(zone));
    }
}
