package io.evenwarm.monitor.alarm;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Limits;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;

/** A desk with agents and cabinets around it, second by second. */
final class Scene {

    static final long SECOND = 1_000_000_000L;
    static final AgentName ROOM = new AgentName("egg room");
    static final AgentName SHED = new AgentName("shed");
    static final CabinetKey NORTH = key(ROOM, "north");
    static final CabinetKey SOUTH = key(ROOM, "south");
    static final CabinetKey HUT = key(SHED, "hut");

    /** Eggs that are in no hurry, whatever happens. */
    static final TimeLeft PLENTY =
            (snapshot, eggs) -> new TimeLeft.Estimate(Optional.empty(), Optional.empty(), "none");

    final List<AlarmChange> changes = new ArrayList<>();
    private final Map<CabinetKey, Air> cabinets = new LinkedHashMap<>();
    private final Set<AgentName> agents;
    private final Set<AgentName> connected;
    AlarmDesk desk;

    /** Far from zero and below it: its zero is arbitrary. */
    private long nanos = -5_000 * SECOND;

    private Instant wall = Instant.parse("2026-03-01T03:00:00Z");

    /** What one cabinet is like now; a test's hand changes it. */
    static final class Air {
        double top = 31.5;
        double middle = 31.5;
        double bottom = 31.5;
        double setPoint = 31.5;
        double tooCold = 30.5;
        double tooWarm = 32.5;
        double cutOff = 33.5;
        double ceiling = 34.5;
        double humidity = 60;
        double secondTop = Double.NaN;
        double ambient = Double.NaN;
        boolean isHeaterOn;
        boolean isSilent;
        Optional<Boolean> doorOpen = Optional.empty();
        boolean isWork;
        boolean isSilenced;
        final Map<FindingCode, Optional<ProbeName>> findings = new TreeMap<>();

        void all(double celsius) {
            top = celsius;
            middle = celsius;
            bottom = celsius;
        }
    }

    Scene(AgentName... agents) {
        this(AlarmSettings.DEFAULT, PLENTY, agents);
    }

    Scene(AlarmSettings settings, TimeLeft timeLeft, AgentName... agents) {
        this.agents = new LinkedHashSet<>(List.of(agents));
        connected = new LinkedHashSet<>(this.agents);
        desk = AlarmDesk.begin(settings, timeLeft, this.agents, now());
    }

    static CabinetKey key(AgentName agent, String cabinet) {
        return new CabinetKey(agent, new CabinetName(cabinet));
    }

    Now now() {
        return new Now(wall, nanos);
    }

    /** The cabinet, from now on there. */
    Air at(CabinetKey key) {
        return cabinets.computeIfAbsent(key, same -> new Air());
    }

    Map<CabinetKey, Air> cabinets() {
        return cabinets;
    }

    boolean isHeard(CabinetKey key) {
        return connected.contains(key.agent()) && !at(key).isSilent;
    }

    /** Lets the clocks go on, and nothing else happen. */
    void advance(long seconds) {
        nanos += seconds * SECOND;
        wall = wall.plusSeconds(seconds);
    }

    void unplug(AgentName agent) {
        connected.remove(agent);
    }

    void plug(AgentName agent) {
        connected.add(agent);
    }

    /** The wall clock is set; the monotonic one is not. */
    void setWall(Instant to) {
        wall = to;
    }

    /** The process is away for so long, and its monotonic clock begins anew. */
    void restart(AlarmSettings settings, TimeLeft timeLeft, long awaySeconds) {
        DeskState kept = desk.state(now());
        wall = wall.plusSeconds(awaySeconds);
        nanos = 77 * SECOND + (kept.savedAt().nanos() & 0xFFFF);
        desk = AlarmDesk.restore(settings, timeLeft, agents, kept, now());
    }

    /** Lets whole seconds pass. Returns what changed in them. */
    List<AlarmChange> pass(long seconds) {
        int before = changes.size();
        for (long second = 0; second < seconds; second++) {
            nanos += SECOND;
            wall = wall.plusSeconds(1);
            cabinets.forEach(
                    (key, air) -> {
                        if (connected.contains(key.agent()) && !air.isSilent) {
                            changes.addAll(
                                    desk.received(
                                            key.agent(), snapshot(key.cabinet(), air), now()));
                        }
                    });
            changes.addAll(desk.tick(now()));
        }
        return List.copyOf(changes.subList(before, changes.size()));
    }

    List<AlarmChange> act(OperatorAction action) {
        List<AlarmChange> done =
                desk.act(action, "Kim", now())
                        .fold(
                                ActionOutcome.Done::changes,
                                refused -> {
                                    throw new AssertionError(refused.why());
                                });
        changes.addAll(done);
        return done;
    }

    String refused(OperatorAction action) {
        return desk.act(action, "Kim", now())
                .fold(
                        done -> {
                            throw new AssertionError("was done: " + done);
                        },
                        ActionOutcome.Refused::why);
    }

    void told(Fact fact) {
        changes.addAll(desk.told(fact, now()));
    }

    AlarmState state(CabinetKey key, FindingCode code) {
        return state(AlarmKey.of(Subject.of(key), code));
    }

    AlarmState state(AlarmKey key) {
        return desk.alarms().stream()
                .filter(alarm -> alarm.key().equals(key))
                .map(AlarmStatus::state)
                .findFirst()
                .orElse(AlarmState.NORMAL);
    }

    /** What a person has been told of so far, as in "egg room / north too-cold". */
    List<String> annunciated() {
        return changes.stream()
                .filter(AlarmChange::isAnnunciation)
                .map(change -> change.key().toString())
                .toList();
    }

    CabinetSnapshot snapshot(CabinetName cabinet, Air air) {
        List<ProbeReading> probes = new ArrayList<>();
        add(probes, "top", ProbePlace.TOP, air.top);
        add(probes, "guard", ProbePlace.TOP, air.secondTop);
        add(probes, "middle", ProbePlace.MIDDLE, air.middle);
        add(probes, "bottom", ProbePlace.BOTTOM, air.bottom);
        add(probes, "room", ProbePlace.AMBIENT, air.ambient);
        probes.add(
                new ProbeReading(
                        new ProbeName("damp"),
                        ProbePlace.MIDDLE,
                        new Reading.Good(RelativeHumidity.ofPercent(air.humidity), nanos)));
        boolean isBlind = Double.isNaN(air.top + air.middle + air.bottom);
        List<Finding> findings = new ArrayList<>();
        air.findings.forEach(
                (code, probe) ->
                        findings.add(
                                new Finding(
                                        code,
                                        probe,
                                        nanos,
                                        code + " found",
                                        code + " action",
                                        code + " advice")));
        Temperature setPoint = Temperature.ofCelsius(air.setPoint);
        return new CabinetSnapshot(
                cabinet,
                1,
                new Moment(new BootId(new UUID(1, 1)), nanos, wall, true),
                probes,
                isBlind
                        ? Optional.empty()
                        : Optional.of(
                                Temperature.ofCelsius((air.top + air.middle + air.bottom) / 3)),
                setPoint,
                setPoint,
                new Limits(
                        Temperature.ofCelsius(air.tooCold),
                        Temperature.ofCelsius(air.tooWarm),
                        Temperature.ofCelsius(air.cutOff),
                        Temperature.ofCelsius(air.ceiling)),
                Duty.OFF,
                air.isHeaterOn,
                Optional.empty(),
                Optional.empty(),
                GuardState.ALLOWING,
                findings,
                air.isSilenced,
                air.doorOpen,
                Optional.empty(),
                air.isWork ? Optional.of(nanos + 60 * SECOND) : Optional.empty(),
                Optional.empty(),
                Optional.empty());
    }

    private void add(List<ProbeReading> probes, String name, ProbePlace place, double celsius) {
        if (!Double.isNaN(celsius)) {
            probes.add(
                    new ProbeReading(
                            new ProbeName(name),
                            place,
                            new Reading.Good(Temperature.ofCelsius(celsius), nanos)));
        }
    }
}
