package io.evenwarm.monitor.alarm;

import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeName;
import java.util.Optional;

/**
 * Which alarm: there is one for each trouble of each subject.
 *
 * @param probe the probe it is about, where it is about one
 */
public record AlarmKey(Subject subject, FindingCode code, Optional<ProbeName> probe) {

    public static AlarmKey of(Subject subject, FindingCode code) {
        return new AlarmKey(subject, code, Optional.empty());
    }

    /** The trouble alone, in words: as in "probe lost (top)". */
    public String trouble() {
        return trouble(code.value(), probe.map(ProbeName::value));
    }

    /** The same of a code and a probe that were read from the log. */
    public static String trouble(String code, Optional<String> probe) {
        return code.replace('-', ' ') + probe.map(name -> " (" + name + ")").orElse("");
    }

    /** For a person and for an order that stays: as in "egg room / north probe-lost (top)". */
    @Override
    public String toString() {
        return subject + " " + code + probe.map(name -> " (" + name + ")").orElse("");
    }
}
