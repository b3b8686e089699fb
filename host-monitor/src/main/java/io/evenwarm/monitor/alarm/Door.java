package io.evenwarm.monitor.alarm;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/**
 * What people do at a cabinet, which explains air that is cold, uneven or dry for a while.
 *
 * @param openSinceNanos monotonic time since when the door has been open; empty while it is shut
 * @param lastOpenNanos monotonic time at which it was last seen open
 * @param lastWorkNanos monotonic time at which planned work was last under way
 */
public record Door(
        Optional<Long> openSinceNanos, Optional<Long> lastOpenNanos, Optional<Long> lastWorkNanos) {

    static final Door UNTOUCHED = new Door(Optional.empty(), Optional.empty(), Optional.empty());

    Door after(CabinetSnapshot snapshot, Now now) {
        boolean isOpen = snapshot.doorOpen().orElse(false);
        boolean isWork = snapshot.plannedWorkUntilNanos().isPresent();
        if (!isOpen && !isWork && openSinceNanos.isEmpty()) {
            return this;
        }
        return new Door(
                isOpen ? Optional.of(openSinceNanos.orElse(now.nanos())) : Optional.empty(),
                isOpen ? Optional.of(now.nanos()) : lastOpenNanos,
                isWork ? Optional.of(now.nanos()) : lastWorkNanos);
    }

    /**
     * Whether warm air is being let out: by the switch, as the agent found in the air, or, where no
     * switch tells, as somebody said.
     */
    static boolean isOpen(CabinetSnapshot snapshot) {
        return snapshot.doorOpen().orElse(snapshot.plannedWorkUntilNanos().isPresent())
                || snapshot.findings().stream()
                        .anyMatch(finding -> finding.code().equals(FindingCode.DOOR_OPEN));
    }

    /** What of it explains something now. */
    Optional<Explanation> explanation(AlarmTimes times, Now now) {
        long recoveryNanos = times.recovery().toNanos();
        if (lastWorkNanos.isPresent() && now.sinceNanos(lastWorkNanos.get()) <= recoveryNanos) {
            return Optional.of(new Explanation("explained by planned work"));
        }
        boolean isOpenForLong =
                openSinceNanos.isPresent()
                        && now.sinceNanos(openSinceNanos.get()) > times.openDoorMax().toNanos();
        if (lastOpenNanos.isPresent()
                && now.sinceNanos(lastOpenNanos.get()) <= recoveryNanos
                && !isOpenForLong) {
            return Optional.of(new Explanation("explained by the door, which was opened"));
        }
        return Optional.empty();
    }

    Door shifted(long byNanos) {
        return new Door(
                openSinceNanos.map(nanos -> nanos + byNanos),
                lastOpenNanos.map(nanos -> nanos + byNanos),
                lastWorkNanos.map(nanos -> nanos + byNanos));
    }
}
