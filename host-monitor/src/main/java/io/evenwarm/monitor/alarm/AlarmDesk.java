package io.evenwarm.monitor.alarm;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.alarm.AlarmKind.Reach;
import io.evenwarm.monitor.alarm.DeskState.AgentHeard;
import io.evenwarm.monitor.history.CabinetKey;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Judges what comes in, and says what changed.
 *
 * <pre>
 *   desk = AlarmDesk.begin(settings, timeLeft, agents, now)      or AlarmDesk.restore(…, state, now)
 *   on each snapshot:         log(desk.received(agent, snapshot, now))
 *   once a second:            log(desk.tick(now))
 *   on what others know:      log(desk.told(fact, now))
 *   when a person acts:       log(desk.act(action, who, now))
 *   before the log is safe:   keep(desk.state(now)) with the changes that led to it
 * </pre>
 *
 * <p>One thread at a time. Monotonic time never goes back from call to call; wall time may.
 */
public final class AlarmDesk {

    private static final Comparator<Alarm> CAUSES_FIRST =
            Comparator.<Alarm>comparingInt(alarm -> AlarmKinds.rank(alarm.key().code()))
                    .thenComparing(
                            (one, other) -> Long.signum(one.beganNanos() - other.beganNanos()));

    private final AlarmSettings settings;
    private final AlarmTimes times;
    private final TimeLeft timeLeft;
    private final CabinetJudge judge;
    private final Map<AgentName, Long> heardNanos = new LinkedHashMap<>();
    private final Map<CabinetKey, CabinetMemory> cabinets = new LinkedHashMap<>();
    private final Map<AlarmKey, Fact> facts = new LinkedHashMap<>();
    private final Set<AgentName> agents;
    private final AlarmBook book;
    private final EventBook events;
    private final Explanations explanations;
    private final ChangeLog log;
    private final OperatorDesk operator;

    private AlarmDesk(
            AlarmSettings settings, TimeLeft timeLeft, Set<AgentName> agents, DeskState state) {
        this.settings = settings;
        this.times = settings.times();
        this.timeLeft = timeLeft;
        this.judge = new CabinetJudge(times);
        this.agents = new LinkedHashSet<>(agents);
        book = new AlarmBook(state.alarms());
        events = new EventBook(state.nextEvent(), state.members());
        log = new ChangeLog(state.nextChange());
        explanations = new Explanations(book);
        operator = new OperatorDesk(book, times, log);
        state.cabinets().forEach(cabinet -> cabinets.put(cabinet.key(), cabinet));
        state.agents().forEach(heard -> heardNanos.put(heard.agent(), heard.nanos()));
        state.facts().forEach(fact -> facts.put(fact.key(), fact));
        // One that was never heard of counts as heard of now: it gets its time to connect.
        agents.forEach(agent -> heardNanos.putIfAbsent(agent, state.savedAt().nanos()));
    }

    /**
     * A desk that knows of nothing yet.
     *
     * @param agents every agent of the settings: one that is never heard of is silent, too
     */
    public static AlarmDesk begin(
            AlarmSettings settings, TimeLeft timeLeft, Set<AgentName> agents, Now now) {
        return new AlarmDesk(settings, timeLeft, agents, DeskState.blank(now));
    }

    /** The desk that {@code state} was taken from, in a new run. */
    public static AlarmDesk restore(
            AlarmSettings settings,
            TimeLeft timeLeft,
            Set<AgentName> agents,
            DeskState state,
            Now now) {
        return new AlarmDesk(settings, timeLeft, agents, state.continuedAt(now));
    }

    /** All of it, to be kept for {@link #restore}. */
    public DeskState state(Now now) {
        return new DeskState(
                now,
                log.nextNumber(),
                events.nextEvent(),
                book.all().stream().map(Alarm::status).toList(),
                events.members(),
                List.copyOf(cabinets.values()),
                heardNanos.entrySet().stream()
                        .map(heard -> new AgentHeard(heard.getKey(), heard.getValue()))
                        .toList(),
                List.copyOf(facts.values()));
    }

    /** The alarms that are not at rest: in view, put away, or about to come or go. */
    public List<AlarmStatus> alarms() {
        return book.all().stream().map(Alarm::status).toList();
    }

    /** What explains each alarm that is suppressed by design, in words. */
    public Map<AlarmKey, String> explanations(Now now) {
        Map<AlarmKey, String> words = new LinkedHashMap<>();
        for (Alarm alarm : book.all()) {
            if (alarm.state() == AlarmState.SUPPRESSED_BY_DESIGN) {
                explain(alarm, urgency(alarm, now), now)
                        .ifPresent(why -> words.put(alarm.key(), why.words()));
            }
        }
        return words;
    }

    /** The alarms of one event that are not at rest, first out first. */
    public List<AlarmStatus> firstOut(EventId event) {
        return book.all().stream()
                .filter(alarm -> alarm.event().equals(Optional.of(event)))
                .sorted((one, other) -> Long.signum(one.beganNanos() - other.beganNanos()))
                .map(Alarm::status)
                .toList();
    }

    /** An agent's snapshot of one of its cabinets came. */
    public List<AlarmChange> received(AgentName agent, CabinetSnapshot snapshot, Now now) {
        CabinetKey key = new CabinetKey(agent, snapshot.cabinet());
        Subject subject = Subject.of(key);
        Optional<CabinetMemory> before = Optional.ofNullable(cabinets.get(key));
        EggCourse eggs = EggCourse.after(before.flatMap(CabinetMemory::eggs), snapshot, now);
        CabinetMemory memory =
                new CabinetMemory(
                        key,
                        now.nanos(),
                        Course.after(
                                before.flatMap(CabinetMemory::course),
                                snapshot,
                                Door.isOpen(snapshot),
                                now),
                        before.map(CabinetMemory::door).orElse(Door.UNTOUCHED).after(snapshot, now),
                        Optional.of(eggs),
                        timeLeft.of(key, snapshot, eggs.coldestCelsius()),
                        snapshot.silenced());
        cabinets.put(key, memory);
        heardNanos.put(agent, now.nanos());
        if (before.isPresent() && isSilent(before.get().heardNanos(), now)) {
            book.of(subject).forEach(Alarm::interrupt);
        }
        CabinetLimits limits = settings.limits(key);
        Map<AlarmKey, Look> looks =
                judge.looks(subject, snapshot, memory, limits, this::isRaised, now);
        looks.forEach((alarmKey, look) -> look(alarmKey, look, now));
        List<Alarm> touched = new ArrayList<>(book.of(subject));
        looks.keySet().stream()
                .filter(alarmKey -> !alarmKey.subject().equals(subject))
                .forEach(alarmKey -> book.find(alarmKey).ifPresent(touched::add));
        for (Alarm alarm : book.of(subject)) {
            if (!looks.containsKey(alarm.key()) && !facts.containsKey(alarm.key())) {
                lookAgain(alarm, judge.absent(now), now);
            }
        }
        settle(touched, now);
        boolean wasSilenced = before.map(CabinetMemory::isSilenced).orElse(false);
        if (snapshot.silenced() && !wasSilenced) {
            acknowledgeAt(subject, snapshot, touched, now);
        }
        book.forgetResting(subject);
        return log.drain();
    }

    /**
     * Somebody at the cabinet silenced its buzzer: they know of what the agent finds there, and of
     * a drill. What the monitor alone judges they need not know. An agent keeps its silence until
     * it finds something new, so one that is first seen in it was silenced while nobody looked.
     */
    private void acknowledgeAt(
            Subject subject, CabinetSnapshot snapshot, List<Alarm> touched, Now now) {
        Set<FindingCode> known = new HashSet<>();
        snapshot.findings().forEach(finding -> known.add(finding.code()));
        known.add(AlarmCodes.DRILL);
        for (Alarm alarm : touched) {
            if (known.contains(alarm.key().code())) {
                operator.acknowledge(alarm, "silence button of " + subject, now);
            }
        }
    }

    private boolean isRaised(AlarmKey key) {
        return book.find(key).map(Alarm::isRaised).orElse(false);
    }

    private void look(AlarmKey key, Look look, Now now) {
        // Nearly all looks see nothing: those cost no alarm.
        if (look.presence() == Presence.PRESENT) {
            book.findOrMake(key, now).look(look, now);
        } else {
            book.find(key).ifPresent(alarm -> lookAgain(alarm, look, now));
        }
    }

    /** At an alarm that is there: one that comes and goes is not over as soon as others are. */
    private void lookAgain(Alarm alarm, Look look, Now now) {
        boolean isHeld =
                alarm.isRaised()
                        && look.presence() == Presence.ABSENT
                        && alarm.kind().mayComeAndGo();
        alarm.look(
                isHeld
                        ? look.withOffDelay(
                                times.offDelayNanos(
                                        look.offDelayNanos(), events.returns(alarm.key())))
                        : look,
                now);
    }

    /** Something came to be known, or is over. Give it again at least after each restart. */
    public List<AlarmChange> told(Fact fact, Now now) {
        facts.put(fact.key(), fact);
        lookAtFact(fact, now);
        book.find(fact.key()).ifPresent(alarm -> settle(List.of(alarm), now));
        return log.drain();
    }

    private void lookAtFact(Fact fact, Now now) {
        boolean isDrill = fact.key().code().equals(AlarmCodes.DRILL);
        look(
                fact.key(),
                new Look(
                        Presence.of(fact.holds()),
                        0,
                        // Who ends an exercise has ended it.
                        isDrill ? 0 : times.foundOffDelay().toNanos(),
                        now.nanos(),
                        fact::words),
                now);
    }

    /** Time has passed: silences, ends of delays and shelves, re-alarms. Call it once a second. */
    public List<AlarmChange> tick(Now now) {
        lookForSilence(now);
        facts.values().forEach(fact -> lookAtFact(fact, now));
        lookForEnds(now);
        settle(book.all(), now);
        book.forgetResting();
        events.forget(times, now);
        return log.drain();
    }

    private void lookForSilence(Now now) {
        heardNanos.forEach(
                (agent, nanos) -> {
                    boolean isSilent = agents.contains(agent) && isSilent(nanos, now);
                    look(
                            AlarmKey.of(Subject.of(agent), AlarmCodes.AGENT_SILENT),
                            judge.silence(isSilent, nanos, "agent " + agent, now),
                            now);
                });
        cabinets.forEach(
                (key, memory) -> {
                    boolean isSilent =
                            agents.contains(key.agent()) && isSilent(memory.heardNanos(), now);
                    look(
                            AlarmKey.of(Subject.of(key), AlarmCodes.CABINET_STALE),
                            judge.silence(
                                    isSilent, memory.heardNanos(), "cabinet " + key.cabinet(), now),
                            now);
                });
    }

    private boolean isSilent(long sinceNanos, Now now) {
        return now.sinceNanos(sinceNanos) >= times.silence().toNanos();
    }

    /** What no snapshot will end: told of an agent as a whole, or of one that is no longer ours. */
    private void lookForEnds(Now now) {
        for (Alarm alarm : book.all()) {
            Optional<AgentName> agent = alarm.key().subject().agent();
            if (agent.isEmpty() || facts.containsKey(alarm.key())) {
                continue;
            }
            boolean isOurs = agents.contains(agent.get());
            boolean isOfAgent =
                    alarm.kind().reach() == Reach.AGENT
                            && !isSilent(heardNanos.getOrDefault(agent.get(), now.nanos()), now)
                            && isSilent(alarm.lastPresentNanos(), now);
            if (!isOurs) {
                alarm.look(judge.absent(now), now);
            } else if (isOfAgent) {
                lookAgain(alarm, judge.absent(now), now);
            }
        }
    }

    /** A person does something about alarms. */
    public ActionOutcome act(OperatorAction action, String who, Now now) {
        Optional<String> refusal =
                operator.act(
                        action,
                        who,
                        subject -> isKnown(subject),
                        alarm -> explain(alarm, urgency(alarm, now), now).isPresent(),
                        now);
        List<AlarmChange> changes = log.drain();
        return refusal.<ActionOutcome>map(ActionOutcome.Refused::new)
                .orElseGet(() -> new ActionOutcome.Done(changes));
    }

    private boolean isKnown(Subject subject) {
        if (subject.agent().isEmpty()) {
            return true;
        }
        AgentName agent = subject.agent().get();
        return subject.cabinet()
                .map(cabinet -> cabinets.containsKey(new CabinetKey(agent, cabinet)))
                .orElse(heardNanos.containsKey(agent));
    }

    private void settle(List<Alarm> alarms, Now now) {
        List<Alarm> ordered = alarms.size() > 1 ? new ArrayList<>(alarms) : alarms;
        if (ordered.size() > 1) {
            ordered.sort(CAUSES_FIRST);
        }
        for (Alarm alarm : ordered) {
            Urgency urgency = urgency(alarm, now);
            alarm.settle(
                    explain(alarm, urgency, now),
                    urgency,
                    () -> events.join(alarm, times, now),
                    times,
                    now,
                    log);
            if (alarm.isThere(now)) {
                events.touch(alarm.key(), now);
            }
        }
    }

    private Optional<Explanation> explain(Alarm alarm, Urgency urgency, Now now) {
        return explanations.of(
                alarm, urgency, memory(alarm.key().subject()).map(CabinetMemory::door), times, now);
    }

    /** How long a cabinet's eggs had at its newest snapshot; empty before the first. */
    public Optional<TimeLeft.Estimate> timeLeft(CabinetKey key) {
        return Optional.ofNullable(cabinets.get(key)).map(CabinetMemory::left);
    }

    private Optional<CabinetMemory> memory(Subject subject) {
        return subject.cabinetKey().flatMap(key -> Optional.ofNullable(cabinets.get(key)));
    }

    /** How pressing it is; for an agent as a whole by the cabinet whose eggs have least time. */
    private Urgency urgency(Alarm alarm, Now now) {
        AlarmKind kind = alarm.kind();
        Subject subject = alarm.key().subject();
        Urgency most = new Urgency(kind.least(), Optional.empty());
        if (kind.danger() == AlarmKind.Danger.NONE || subject.agent().isEmpty()) {
            return most;
        }
        if (subject.cabinet().isPresent()) {
            return memory(subject).map(cabinet -> urgency(kind, cabinet, now)).orElse(most);
        }
        for (CabinetMemory cabinet : cabinets.values()) {
            if (cabinet.key().agent().equals(subject.agent().get())) {
                most = most.moreUrgentOf(urgency(kind, cabinet, now));
            }
        }
        return most;
    }

    private Urgency urgency(AlarmKind kind, CabinetMemory cabinet, Now now) {
        if (kind.isOnlyHowCold() && cabinet.isOnItsWayBack(times, now)) {
            // Still cold, but no limit is coming nearer.
            return new Urgency(kind.least(), Optional.empty());
        }
        return Urgency.of(
                kind,
                kind.danger().timeLeft(cabinet.left()),
                now.sinceNanos(cabinet.heardNanos()),
                times);
    }
}
