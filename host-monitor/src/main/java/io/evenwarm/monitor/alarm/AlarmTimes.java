package io.evenwarm.monitor.alarm;

import java.time.Duration;
import java.util.List;

/**
 * The times of the alarm logic that are the same for all cabinets. Each default is common practice
 * of ours without an outside source, unless one is named; docs/alarms.md says why.
 *
 * @param silence an agent, or a cabinet, of which no snapshot came for so long is silent
 * @param foundOffDelay what an agent found counts as over once it was not told for so long: longer
 *     than a link that flaps
 * @param highWithin less time left than this is high priority
 * @param mediumWithin less time left than this is medium priority; not less than {@code highWithin}
 * @param reAlarmHigh an acknowledged alarm of high priority that is still there is told again
 * @param reAlarmMedium the same of medium priority
 * @param reAlarmLow the same of low priority
 * @param sameCauseWithin the same trouble at several cabinets within so long has one cause
 * @param followUpWithin what comes up again within so long after it went, or goes with what went,
 *     still belongs to that event
 * @param sameTroubleWithin the same alarm that comes up again within so long after it went is the
 *     same trouble, which nobody has mended
 * @param comesAndGoes the off-delay of an alarm that came back once, twice, and more often than
 *     that, where it is longer than its usual one
 * @param recovery so long after planned work or an open door, what these explain is still explained
 * @param openDoorMax a door that is open for longer explains nothing by itself
 * @param shelfMax nobody shelves for longer
 */
public record AlarmTimes(
        Duration silence,
        Duration foundOffDelay,
        Duration highWithin,
        Duration mediumWithin,
        Duration reAlarmHigh,
        Duration reAlarmMedium,
        Duration reAlarmLow,
        Duration sameCauseWithin,
        Duration followUpWithin,
        Duration sameTroubleWithin,
        List<Duration> comesAndGoes,
        Duration recovery,
        Duration openDoorMax,
        Duration shelfMax) {

    private static final Duration LONGEST = Duration.ofDays(366);

    public static final AlarmTimes DEFAULT =
            new AlarmTimes(
                    Duration.ofSeconds(28),
                    Duration.ofSeconds(60),
                    Duration.ofHours(1),
                    Duration.ofHours(8),
                    Duration.ofMinutes(30),
                    Duration.ofHours(4),
                    Duration.ofHours(24),
                    Duration.ofMinutes(10),
                    Duration.ofHours(1),
                    Duration.ofDays(3),
                    List.of(Duration.ofMinutes(30), Duration.ofHours(4), Duration.ofHours(24)),
                    Duration.ofHours(1),
                    Duration.ofMinutes(10),
                    Duration.ofHours(24));

    public AlarmTimes {
        require("silence", silence);
        require("foundOffDelay", foundOffDelay);
        require("highWithin", highWithin);
        require("mediumWithin", mediumWithin);
        require("reAlarmHigh", reAlarmHigh);
        require("reAlarmMedium", reAlarmMedium);
        require("reAlarmLow", reAlarmLow);
        require("sameCauseWithin", sameCauseWithin);
        require("followUpWithin", followUpWithin);
        require("sameTroubleWithin", sameTroubleWithin);
        comesAndGoes = List.copyOf(comesAndGoes);
        comesAndGoes.forEach(length -> require("comesAndGoes", length));
        require("recovery", recovery);
        require("openDoorMax", openDoorMax);
        require("shelfMax", shelfMax);
        if (mediumWithin.compareTo(highWithin) < 0) {
            throw new IllegalArgumentException(
                    "mediumWithin must be at least highWithin, "
                            + highWithin
                            + ", but was "
                            + mediumWithin);
        }
    }

    private static void require(String what, Duration length) {
        if (length.isNegative() || length.isZero() || length.compareTo(LONGEST) > 0) {
            throw new IllegalArgumentException(
                    what + " must be more than 0 and at most " + LONGEST + " but was " + length);
        }
    }

    /**
     * The same for alarms that are over as soon as their conditions are, however often they come.
     */
    public AlarmTimes withoutComingAndGoing() {
        return new AlarmTimes(
                silence,
                foundOffDelay,
                highWithin,
                mediumWithin,
                reAlarmHigh,
                reAlarmMedium,
                reAlarmLow,
                sameCauseWithin,
                followUpWithin,
                sameTroubleWithin,
                List.of(),
                recovery,
                openDoorMax,
                shelfMax);
    }

    /**
     * The off-delay of an alarm that comes and goes, so that it is told once and not each time.
     *
     * @param returns how often it came back
     */
    long offDelayNanos(long usualNanos, int returns) {
        if (returns == 0 || comesAndGoes.isEmpty()) {
            return usualNanos;
        }
        Duration longer = comesAndGoes.get(Math.min(returns, comesAndGoes.size()) - 1);
        return Math.max(usualNanos, longer.toNanos());
    }

    Duration reAlarm(Priority priority) {
        return switch (priority) {
            case HIGH -> reAlarmHigh;
            case MEDIUM -> reAlarmMedium;
            case LOW -> reAlarmLow;
        };
    }
}
