package io.evenwarm.monitor.alert;

import io.evenwarm.monitor.alarm.AlarmChange;
import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmStatus;
import io.evenwarm.monitor.alarm.EventId;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.monitor.alarm.Priority;
import io.evenwarm.monitor.alarm.Trigger;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.notice.Escalation;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeDesk;
import io.evenwarm.monitor.notice.NoticePriority;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.Supplier;

/**
 * Tells the notices what became of events: one event makes one notice and its follow-ups, whatever
 * number of alarms it has. Used by one thread at a time.
 */
final class EventTeller {

    private final Optional<NoticeDesk> notices;
    private final EventFacts facts;

    /**
     * @param notices who tells people; empty when nobody stands in the settings
     * @param tubs those that stand somewhere now; asked once a round
     * @param assumptions what the time left of a cabinet's eggs rests on
     */
    EventTeller(
            Optional<NoticeDesk> notices,
            Supplier<List<Tub>> tubs,
            Function<CabinetKey, Optional<String>> assumptions) {
        this.notices = notices;
        this.facts = new EventFacts(tubs, assumptions);
    }

    /** What is live now; once a round. */
    void see(List<LiveCabinet> cabinets, Now now) {
        facts.see(cabinets, now);
    }

    /**
     * Tells what changed.
     *
     * @param events the alarms of each event that the changes are about, first out first
     */
    void tell(List<AlarmChange> changes, Map<EventId, List<AlarmStatus>> events, Now now) {
        if (notices.isEmpty()) {
            return;
        }
        Set<EventId> annunciated = new HashSet<>();
        Set<EventId> news = new HashSet<>();
        for (AlarmChange change : changes) {
            if (change.isAnnunciation()) {
                change.event().ifPresent(annunciated::add);
                if (change.trigger() != Trigger.RE_ALARMED) {
                    change.event().ifPresent(news::add);
                }
            }
        }
        List<NoticeDesk.Report> reports = new ArrayList<>();
        events.forEach(
                (event, alarms) -> {
                    String id = AlarmKeeper.noticeEvent(event);
                    List<AlarmStatus> raised = raised(alarms);
                    if (raised.isEmpty()) {
                        notices.get()
                                .clear(
                                        id,
                                        facts.over(
                                                changes.stream()
                                                        .filter(change -> isOf(event, change))
                                                        .toList()));
                    } else if (alarms.stream().noneMatch(EventTeller::isAwaiting)) {
                        notices.get().acknowledge(id);
                    } else if (annunciated.contains(event)) {
                        reports.add(report(id, raised, news.contains(event), now));
                    }
                });
        report(reports);
    }

    private void report(List<NoticeDesk.Report> reports) {
        if (!reports.isEmpty()) {
            notices.orElseThrow().report(reports);
        }
    }

    private static boolean isOf(EventId event, AlarmChange change) {
        return change.event().equals(Optional.of(event));
    }

    private static List<AlarmStatus> raised(List<AlarmStatus> alarms) {
        return alarms.stream().filter(alarm -> alarm.delay().isRaised()).toList();
    }

    private static boolean isAwaiting(AlarmStatus alarm) {
        return alarm.state().awaitsAcknowledgement();
    }

    private NoticeDesk.Report report(String id, List<AlarmStatus> raised, boolean isNews, Now now) {
        boolean isDrill =
                raised.stream().allMatch(alarm -> alarm.key().code().equals(AlarmCodes.DRILL));
        return new NoticeDesk.Report(id, priority(raised), facts.of(raised, now), isNews, isDrill);
    }

    private static NoticePriority priority(List<AlarmStatus> alarms) {
        Priority most =
                alarms.stream()
                        .map(AlarmStatus::priority)
                        .max(Priority::compareTo)
                        .orElse(Priority.LOW);
        return switch (most) {
            case LOW -> NoticePriority.LOW;
            case MEDIUM -> NoticePriority.MEDIUM;
            case HIGH -> NoticePriority.HIGH;
        };
    }

    /**
     * Brings what people were told in line with how the alarms stand. The alarms are kept before
     * people are told of them, and whoever is killed between the two has told nothing: without this
     * nobody ever would.
     *
     * @param alarms all that are not at rest
     */
    void catchUp(List<AlarmStatus> alarms, Now now) {
        if (notices.isEmpty()) {
            return;
        }
        Map<EventId, List<AlarmStatus>> open = new TreeMap<>();
        for (AlarmStatus alarm : alarms) {
            alarm.event()
                    .ifPresent(
                            event ->
                                    open.computeIfAbsent(event, id -> new ArrayList<>())
                                            .add(alarm));
        }
        Map<String, Escalation.Stand> stands = new TreeMap<>();
        notices.get().stands().forEach(stand -> stands.put(stand.eventId(), stand));
        List<NoticeDesk.Report> reports = new ArrayList<>();
        open.forEach(
                (event, there) -> {
                    List<AlarmStatus> raised = raised(there);
                    if (raised.isEmpty()) {
                        return;
                    }
                    String id = AlarmKeeper.noticeEvent(event);
                    Optional<Escalation.Stand> stand = Optional.ofNullable(stands.remove(id));
                    if (there.stream().noneMatch(EventTeller::isAwaiting)) {
                        if (stand.isPresent() && !stand.get().isAcknowledged()) {
                            notices.get().acknowledge(id);
                        }
                    } else if (stand.isEmpty() || !isSaid(stand.get().latest(), raised)) {
                        reports.add(report(id, raised, true, now));
                    }
                });
        report(reports);
        stands.values().stream()
                .filter(stand -> AlarmKeeper.isAlarmsEvent(stand.eventId()))
                .forEach(stand -> notices.get().clear(stand.eventId(), stand.latest().cabinets()));
    }

    /** Whether the newest notice is as urgent and tells of every alarm that awaits somebody. */
    private static boolean isSaid(Notice latest, List<AlarmStatus> raised) {
        return latest.priority().isAtLeast(priority(raised))
                && raised.stream()
                        .filter(EventTeller::isAwaiting)
                        .allMatch(alarm -> tellsOf(latest, alarm));
    }

    private static boolean tellsOf(Notice latest, AlarmStatus alarm) {
        return !latest.at().isBefore(alarm.stateSince().wall())
                && latest.cabinets().stream()
                        .anyMatch(
                                facts ->
                                        facts.cabinet().equals(alarm.key().subject().toString())
                                                && facts.what().contains(alarm.key().trouble()));
    }
}
