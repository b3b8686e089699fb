package io.evenwarm.monitor.store;

import io.evenwarm.monitor.alarm.Subject;
import io.evenwarm.monitor.alert.AlarmsSeen;
import io.evenwarm.monitor.alert.LoggedChange;
import io.evenwarm.monitor.evenness.ProbeEntry;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.evenness.Stands;
import io.evenwarm.monitor.evenness.SurveyWords;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.MonitorRun;
import io.evenwarm.monitor.history.ReadingFilter;
import io.evenwarm.monitor.history.ReadingSink;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.notice.NoticeSent;
import java.io.IOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * A store as seen from outside, also while a monitor writes: history is read as of one moment, the
 * list of tubs and the record of probes, which no monitor writes, are kept, and drills are asked
 * for.
 */
public abstract sealed class StoreOutside permits StoreFile, StoreServer {

    private final Database database;

    StoreOutside(Database database) {
        this.database = database;
    }

    /** A connection to a store of this version. */
    abstract Connection open() throws SQLException, StoreException;

    /** A connection to a store of this version that may write. */
    abstract Connection openForWriting() throws SQLException, StoreException;

    /** Reads on a connection of its own. */
    final <R> R read(ReadPool.Query<R> query) throws StoreException {
        try (Connection connection = open()) {
            return query.run(connection);
        } catch (SQLException e) {
            throw database.trouble("can't read", e);
        }
    }

    /** Something that is written from outside. */
    private interface Writing {
        void on(Connection connection) throws SQLException, StoreException;
    }

    private void write(Writing writing) throws StoreException {
        try (Connection connection = openForWriting()) {
            writing.on(connection);
        } catch (SQLException e) {
            throw database.trouble("can't write", e);
        }
    }

    /** Asks for what was; each answer is as of its own moment. */
    public HistoryQueries history() {
        return new OutsideQueries(this);
    }

    /**
     * Verifies the store.
     *
     * @throws StoreException when it can't be read at all
     */
    public StoreReport check() throws StoreException {
        try (Connection connection = open()) {
            return new StoreCheck(connection).run(database);
        } catch (SQLException e) {
            throw database.trouble("can't check", e);
        }
    }

    /**
     * Hands out readings, probe by probe, oldest first.
     *
     * @return how many there were
     */
    public long exportReadings(ReadingFilter filter, ReadingSink sink) throws IOException {
        try (Connection connection = open()) {
            return new ReadingExport(connection).run(filter, sink);
        } catch (SQLException e) {
            throw database.trouble("can't read", e);
        }
    }

    /**
     * Writes everything into one archive, a new file.
     *
     * @return how many rows there were
     */
    public long exportAll(Path archive) throws IOException {
        try (Connection connection = open()) {
            return new StoreArchive(connection).write(archive);
        } catch (SQLException e) {
            throw database.trouble("can't read", e);
        }
    }

    /** The tubs that stand somewhere now, or all there ever were. */
    public List<Tub> tubs(boolean all) throws StoreException {
        return read(connection -> new Tubs(connection).list(all));
    }

    /**
     * Puts a tub on the list.
     *
     * @throws StoreException when one of that name stands somewhere already
     */
    public void addTub(Tub tub) throws StoreException {
        write(connection -> new Tubs(connection).add(tub));
    }

    /**
     * Says until when the tub of that name stood where it did.
     *
     * @throws StoreException when none does, or it came later
     */
    public void endTub(String name, Instant to) throws StoreException {
        write(connection -> new Tubs(connection).end(name, to));
    }

    /** What is known of every probe. */
    public ProbeRecord probeRecord() throws StoreException {
        return read(connection -> new ProbeEntries(connection).all());
    }

    /** Adds to what is known of probes, all of it or nothing. */
    public void addProbeEntries(List<ProbeEntry> entries) throws StoreException {
        write(
                connection -> {
                    connection.setAutoCommit(false);
                    new ProbeEntries(connection).add(entries);
                    connection.commit();
                });
    }

    /** What keepers said of surveys. */
    public SurveyWords surveyWords() throws StoreException {
        return read(connection -> new StoredSurveyWords(connection).all());
    }

    /**
     * Keeps what a keeper said of surveys, all of it or nothing.
     *
     * @param loads beside what was said before; the last counts
     * @param stands of probes of the cabinet, in the place of what was said of their time
     */
    public void addSurveyWords(List<SurveyWords.Load> loads, CabinetKey key, Stands stands)
            throws StoreException {
        write(
                connection -> {
                    connection.setAutoCommit(false);
                    StoredSurveyWords words = new StoredSurveyWords(connection);
                    for (SurveyWords.Load load : loads) {
                        words.addLoad(load);
                    }
                    words.replaceStands(key, stands.all());
                    connection.commit();
                });
    }

    /** Since when a cabinet's air flow is to be learned; empty: since its first reading. */
    public Optional<Instant> flowBegin(CabinetKey key) throws StoreException {
        return read(connection -> new ProbeEntries(connection).flowBegin(key));
    }

    /**
     * Says that a cabinet's air flow is to be learned anew.
     *
     * @param begin from when on
     * @param why what was changed, for a person
     */
    public void addFlowBegin(CabinetKey key, Instant begin, String why) throws StoreException {
        write(connection -> new ProbeEntries(connection).addFlowBegin(key, begin, why));
    }

    /**
     * Open alarms, as they were kept last, and the log of a span, the oldest first.
     *
     * @param cabinet that one's alone; empty: all
     */
    public AlarmsSeen alarms(Optional<CabinetKey> cabinet, TimeSpan span) throws StoreException {
        return read(connection -> new AlarmLog(connection).seen(cabinet, span));
    }

    /** The monitor's own runs, in the order in which they began. */
    public List<MonitorRun> runs() throws StoreException {
        return read(StoredRuns::all);
    }

    /**
     * Whether the agent's clock, by which a cabinet's readings of a moment are dated, was ever set
     * in that run; also where there are none.
     */
    public boolean isClockSet(CabinetKey key, Instant at) throws StoreException {
        return read(connection -> Extents.isClockSet(connection, key, at));
    }

    /** The alarm log of a span about a cabinet and about its agent as a whole, the oldest first. */
    public List<LoggedChange> changesAbout(CabinetKey key, TimeSpan span) throws StoreException {
        return read(connection -> new AlarmLog(connection).about(key, span));
    }

    /**
     * Notices about a cabinet, or about its agent as a whole, that were written in a span: one for
     * each person and channel, the oldest first.
     */
    public List<NoticeSent> noticesAbout(CabinetKey key, TimeSpan span) throws StoreException {
        Set<String> subjects =
                Set.of(Subject.of(key).toString(), Subject.of(key.agent()).toString());
        return read(connection -> new NoticeLog(connection).sent(subjects, span));
    }

    /**
     * Asks the monitor that runs on this store for a drill.
     *
     * @param id of the drill, new
     * @param limit after which the monitor ends it
     */
    public void askDrill(UUID id, CabinetKey cabinet, Instant now, Duration limit)
            throws StoreException {
        write(connection -> new DrillDesk(connection).ask(id, cabinet, now, limit));
    }

    /** Asks it to end a drill. */
    public void cancelDrill(UUID id) throws StoreException {
        write(connection -> new DrillDesk(connection).cancel(id));
    }

    /** How far a drill has come that was asked for. */
    public DrillReport drill(UUID id) throws StoreException {
        return read(connection -> new DrillDesk(connection).report(id));
    }
}
