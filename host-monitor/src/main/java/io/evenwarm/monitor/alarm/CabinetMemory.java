package io.evenwarm.monitor.alarm;

import io.evenwarm.monitor.history.CabinetKey;
import java.util.Optional;

/**
 * What is remembered of a cabinet from one snapshot to the next.
 *
 * @param heardNanos monotonic time of its newest snapshot
 * @param course empty before the first process value
 * @param eggs empty before the first snapshot
 * @param left how long its eggs had at that snapshot
 * @param isSilenced whether somebody at the cabinet had silenced the buzzer at that snapshot
 */
public record CabinetMemory(
        CabinetKey key,
        long heardNanos,
        Optional<Course> course,
        Door door,
        Optional<EggCourse> eggs,
        TimeLeft.Estimate left,
        boolean isSilenced) {

    /**
     * Whether cold eggs get no colder: the air is warmer than they are, or comes up again after an
     * opening that let it out.
     */
    boolean isOnItsWayBack(AlarmTimes times, Now now) {
        return eggs.map(EggCourse::isWarming).orElse(false)
                || (course.map(Course::isRising).orElse(false)
                        && door.explanation(times, now).isPresent());
    }

    CabinetMemory shifted(long byNanos) {
        return new CabinetMemory(
                key,
                heardNanos + byNanos,
                course.map(past -> past.shifted(byNanos)),
                door.shifted(byNanos),
                eggs.map(past -> past.shifted(byNanos)),
                left,
                isSilenced);
    }
}
