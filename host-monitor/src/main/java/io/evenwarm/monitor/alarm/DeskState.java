package io.evenwarm.monitor.alarm;

import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.alarm.AlarmStatus.Shelf;
import java.time.Duration;
import java.util.List;
import java.util.Optional;

/**
 * All that an alarm desk knows, so that a restart changes nothing for people: what was acknowledged
 * stays so, what was shelved stays so until its end, and delays go on.
 *
 * @param savedAt when it was taken; every monotonic time in it is of this moment's clock
 * @param nextChange the number of the next change
 * @param nextEvent the number of the next event
 * @param alarms those that are not at rest
 * @param members which alarm belongs to which event
 * @param cabinets every cabinet that was heard of
 * @param agents every agent, and when it was last heard of
 * @param facts the newest of each key
 */
public record DeskState(
        Now savedAt,
        long nextChange,
        long nextEvent,
        List<AlarmStatus> alarms,
        List<Membership> members,
        List<CabinetMemory> cabinets,
        List<AgentHeard> agents,
        List<Fact> facts) {

    /** When an agent was last heard of, in monotonic time. */
    public record AgentHeard(AgentName agent, long nanos) {}

    public DeskState {
        alarms = List.copyOf(alarms);
        members = List.copyOf(members);
        cabinets = List.copyOf(cabinets);
        agents = List.copyOf(agents);
        facts = List.copyOf(facts);
    }

    /** Of a desk that begins. */
    static DeskState blank(Now now) {
        return new DeskState(now, 1, 1, List.of(), List.of(), List.of(), List.of(), List.of());
    }

    /**
     * The same on the clock of a run that begins at {@code now}. Delays, silences and memberships
     * go on where they were: nothing was looked at in between. What a person waits for (the end of
     * a shelf, the next re-alarm) runs on through the gap, as far as the wall clock tells how long
     * it was; a wall clock that went back adds nothing.
     */
    DeskState continuedAt(Now now) {
        long byNanos = now.nanos() - savedAt.nanos();
        Duration gap = Duration.between(savedAt.wall(), now.wall());
        long gapNanos = gap.isNegative() ? 0 : saturatedNanos(gap);
        return new DeskState(
                now,
                nextChange,
                nextEvent,
                alarms.stream().map(alarm -> shifted(alarm, byNanos, gapNanos)).toList(),
                members.stream().map(member -> member.shifted(byNanos)).toList(),
                cabinets.stream().map(cabinet -> cabinet.shifted(byNanos)).toList(),
                agents.stream()
                        .map(heard -> new AgentHeard(heard.agent, heard.nanos + byNanos))
                        .toList(),
                facts);
    }

    private static long saturatedNanos(Duration gap) {
        // A year is longer than anything that is waited for, and far from what a long can hold.
        Duration longest = Duration.ofDays(366);
        return gap.compareTo(longest) > 0 ? longest.toNanos() : gap.toNanos();
    }

    private static AlarmStatus shifted(AlarmStatus alarm, long byNanos, long gapNanos) {
        long sinceGap = alarm.state() == AlarmState.ACKNOWLEDGED ? gapNanos : 0;
        return new AlarmStatus(
                alarm.key(),
                alarm.state(),
                new Now(alarm.stateSince().wall(), alarm.stateSince().nanos() + byNanos - sinceGap),
                alarm.delay().shifted(byNanos),
                alarm.event(),
                alarm.priority(),
                alarm.timeLeft(),
                alarm.wasAcknowledged(),
                alarm.needsReset(),
                shelf(alarm.shelf(), byNanos - gapNanos),
                alarm.lastPresentNanos() + byNanos,
                alarm.words(),
                alarm.wordsAtNanos() + byNanos);
    }

    private static Optional<Shelf> shelf(Optional<Shelf> shelf, long byNanos) {
        return shelf.map(
                until -> new Shelf(until.untilNanos() + byNanos, until.who(), until.why()));
    }
}
