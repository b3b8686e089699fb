package io.evenwarm.monitor.alarm;

import io.evenwarm.message.AgentName;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;

/** The alarms that are not at rest, by subject. Its order is the order in which they came. */
final class AlarmBook {

    private final Map<Subject, Map<AlarmKey, Alarm>> bySubject = new LinkedHashMap<>();

    AlarmBook(List<AlarmStatus> kept) {
        for (AlarmStatus status : kept) {
            put(new Alarm(status));
        }
    }

    private void put(Alarm alarm) {
        bySubject
                .computeIfAbsent(alarm.key().subject(), subject -> new LinkedHashMap<>())
                .put(alarm.key(), alarm);
    }

    Optional<Alarm> find(AlarmKey key) {
        return Optional.ofNullable(bySubject.getOrDefault(key.subject(), Map.of()).get(key));
    }

    /** The alarm of that key; a new one in its normal state if there is none. */
    Alarm findOrMake(AlarmKey key, Now now) {
        return find(key)
                .orElseGet(
                        () -> {
                            Alarm made = new Alarm(key, now);
                            put(made);
                            return made;
                        });
    }

    Collection<Alarm> of(Subject subject) {
        return bySubject.getOrDefault(subject, Map.of()).values();
    }

    /** Those of an agent and of its cabinets. */
    void eachOf(AgentName agent, Consumer<Alarm> consumer) {
        bySubject.forEach(
                (subject, alarms) -> {
                    if (subject.agent().isPresent() && subject.agent().get().equals(agent)) {
                        alarms.values().forEach(consumer);
                    }
                });
    }

    List<Alarm> all() {
        List<Alarm> all = new ArrayList<>();
        bySubject.values().forEach(alarms -> all.addAll(alarms.values()));
        return all;
    }

    /** Forgets a subject's alarms that are at rest. */
    void forgetResting(Subject subject) {
        Map<AlarmKey, Alarm> alarms = bySubject.get(subject);
        if (alarms != null) {
            alarms.values().removeIf(Alarm::isAtRest);
            if (alarms.isEmpty()) {
                bySubject.remove(subject);
            }
        }
    }

    void forgetResting() {
        bySubject
                .values()
                .removeIf(
                        alarms -> {
                            alarms.values().removeIf(Alarm::isAtRest);
                            return alarms.isEmpty();
                        });
    }
}
