package io.evenwarm.monitor.alarm;

import io.evenwarm.message.AgentName;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;

/**
 * Suppression by design: what makes an alarm say nothing new. Never where the eggs have little time
 * left: then it is told, whatever explains it, as a follow-up of the same event.
 */
final class Explanations {

    private final AlarmBook book;

    Explanations(AlarmBook book) {
        this.book = book;
    }

    /**
     * What explains an alarm; empty where nothing does, or where nothing may.
     *
     * @param door of the alarm's cabinet; empty for an alarm that is not about one
     */
    Optional<Explanation> of(
            Alarm alarm, Urgency urgency, Optional<Door> door, AlarmTimes times, Now now) {
        AlarmKind kind = alarm.kind();
        boolean isUrgent = urgency.priority() == Priority.HIGH || alarm.isOfHighPriority();
        if (!alarm.isRaised() || isUrgent) {
            return Optional.empty();
        }
        if (kind.isExplainedByDoor() && door.isPresent()) {
            Optional<Explanation> byDoor = door.get().explanation(times, now);
            if (byDoor.isPresent()) {
                return byDoor;
            }
        }
        if (kind.explainedBy().isEmpty()) {
            return Optional.empty();
        }
        return around(alarm.key().subject()).stream()
                .filter(other -> kind.explainedBy().contains(other.key().code()))
                .filter(other -> other.explainsOthers(now))
                .findFirst()
                .map(other -> new Explanation("explained by " + other.key()));
    }

    /** The alarms that may explain one of this subject. */
    private Collection<Alarm> around(Subject subject) {
        if (subject.agent().isEmpty()) {
            return book.of(subject);
        }
        AgentName agent = subject.agent().get();
        List<Alarm> around = new ArrayList<>();
        if (subject.cabinet().isEmpty()) {
            book.eachOf(agent, around::add);
        } else {
            around.addAll(book.of(subject));
            around.addAll(book.of(Subject.of(agent)));
        }
        return around;
    }
}
