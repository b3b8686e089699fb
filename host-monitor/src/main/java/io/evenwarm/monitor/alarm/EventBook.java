package io.evenwarm.monitor.alarm;

import io.evenwarm.monitor.alarm.AlarmKind.Reach;
import java.time.Duration;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;

/**
 * Which alarms have one cause. A new occurrence joins, in this order:
 *
 * <ol>
 *   <li>the event that the same alarm belongs to still; the oldest event of now of an alarm that
 *       explains it, that it explains, or that comes with it, at the same cabinet or its agent;
 *   <li>the event of the same trouble at another cabinet of the agent (or in the house, where its
 *       cause reaches so far) that was raised a short while ago; all that a cabinet without power
 *       shows counts as the same trouble;
 *   <li>only then the event that the same alarm belonged to a few days ago, or one akin to it: what
 *       comes and goes is one trouble that nobody has mended, unless something else happens now;
 *   <li>else it begins an event.
 * </ol>
 *
 * <p>Two events are never made one: what was told of them stands.
 */
final class EventBook {

    private final Map<AlarmKey, Membership> members = new LinkedHashMap<>();
    private long nextEvent;

    EventBook(long nextEvent, List<Membership> kept) {
        this.nextEvent = nextEvent;
        kept.forEach(member -> members.put(member.key(), member));
    }

    long nextEvent() {
        return nextEvent;
    }

    List<Membership> members() {
        return List.copyOf(members.values());
    }

    /** The event of an occurrence that begins. */
    EventId join(Alarm alarm, AlarmTimes times, Now now) {
        EventId event = find(alarm, times, now).orElseGet(() -> new EventId(nextEvent++));
        Membership own = members.get(alarm.key());
        int returns = own != null && isSameTrouble(own, times, now) ? own.returns() + 1 : 0;
        members.put(
                alarm.key(), new Membership(alarm.key(), event, now.nanos(), now.nanos(), returns));
        return event;
    }

    private Optional<EventId> find(Alarm alarm, AlarmTimes times, Now now) {
        if (alarm.state() != AlarmState.NORMAL && alarm.event().isPresent()) {
            return alarm.event();
        }
        Optional<EventId> ofNow =
                oldest(
                                member ->
                                        isAlive(member, times, now)
                                                && (alarm.key().equals(member.key())
                                                        || isRelated(alarm, member)))
                        .or(() -> oldest(member -> isSameCause(alarm, member, times, now)));
        if (ofNow.isPresent()) {
            return ofNow;
        }
        Membership own = members.get(alarm.key());
        return own != null && isSameTrouble(own, times, now)
                ? Optional.of(own.event())
                : oldest(
                        member ->
                                isStillHere(alarm, member, times, now) && isRelated(alarm, member));
    }

    private Optional<EventId> oldest(Predicate<Membership> joined) {
        return members.values().stream()
                .filter(joined)
                .map(Membership::event)
                .min(Comparator.naturalOrder());
    }

    private static boolean isAlive(Membership member, AlarmTimes times, Now now) {
        return now.sinceNanos(member.aliveAtNanos()) <= times.followUpWithin().toNanos();
    }

    private static boolean isSameTrouble(Membership member, AlarmTimes times, Now now) {
        Duration within =
                AlarmKinds.of(member.key().code()).mayComeAndGo()
                        ? times.sameTroubleWithin()
                        : times.followUpWithin();
        return now.sinceNanos(member.aliveAtNanos()) <= within.toNanos();
    }

    /** How often an alarm came back in the time in which that is the same trouble. */
    int returns(AlarmKey key) {
        Membership own = members.get(key);
        return own == null ? 0 : own.returns();
    }

    /** A trouble of this cabinet that nobody may have mended yet shows in another way. */
    private static boolean isStillHere(Alarm alarm, Membership member, AlarmTimes times, Now now) {
        return alarm.kind().mayComeAndGo()
                && AlarmKinds.of(member.key().code()).mayComeAndGo()
                && alarm.key().subject().equals(member.key().subject())
                && now.sinceNanos(member.aliveAtNanos()) <= times.sameTroubleWithin().toNanos();
    }

    private static boolean isRelated(Alarm alarm, Membership member) {
        AlarmKind one = alarm.kind();
        AlarmKind other = AlarmKinds.of(member.key().code());
        boolean isKin =
                one.explainedBy().contains(other.code())
                        || other.explainedBy().contains(one.code())
                        || one.comesWith().contains(other.code())
                        || other.comesWith().contains(one.code());
        Subject mine = alarm.key().subject();
        Subject theirs = member.key().subject();
        boolean isNear =
                mine.agent().equals(theirs.agent())
                        && (mine.cabinet().isEmpty()
                                || theirs.cabinet().isEmpty()
                                || mine.cabinet().equals(theirs.cabinet()));
        return isKin && isNear;
    }

    private static boolean isSameCause(Alarm alarm, Membership member, AlarmTimes times, Now now) {
        boolean isInReach =
                alarm.kind().reach() == Reach.HOUSE
                        || alarm.key().subject().agent().equals(member.key().subject().agent());
        return isInReach
                && isOneTrouble(alarm.kind(), AlarmKinds.of(member.key().code()))
                && now.sinceNanos(member.raisedAtNanos()) <= times.sameCauseWithin().toNanos();
    }

    /**
     * Without power one cabinet is found by its fan, another by its heater and a third by its
     * temperature, each when it shows.
     */
    private static boolean isOneTrouble(AlarmKind one, AlarmKind other) {
        return one.code().equals(other.code()) || (one.showsLostPower() && other.showsLostPower());
    }

    /** The alarm's condition is there at this moment. */
    void touch(AlarmKey key, Now now) {
        members.computeIfPresent(
                key,
                (same, member) ->
                        new Membership(
                                same,
                                member.event(),
                                member.raisedAtNanos(),
                                now.nanos(),
                                member.returns()));
    }

    /** Forgets what nothing can join any more. */
    void forget(AlarmTimes times, Now now) {
        members.values()
                .removeIf(
                        member ->
                                !isSameTrouble(member, times, now)
                                        && !isAlive(member, times, now)
                                        && now.sinceNanos(member.raisedAtNanos())
                                                > times.sameCauseWithin().toNanos());
    }
}
