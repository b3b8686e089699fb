package io.evenwarm.monitor.store;

import io.evenwarm.monitor.notice.AnswerLink;
import io.evenwarm.monitor.notice.AnswerLinks;
import io.evenwarm.monitor.notice.DeliveryKey;
import io.evenwarm.monitor.notice.DeliveryState;
import io.evenwarm.monitor.notice.Escalation;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeJson;
import io.evenwarm.monitor.notice.NoticeStore;
import io.evenwarm.monitor.notice.PendingDelivery;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Notices in the store of the history. Any thread may call it; writers take turns there. */
final class StoredNotices implements NoticeStore {

    /** No person's or channel's name has one: they are names of the settings. */
    private static final String BETWEEN_NAMES = "\n";

    /** What is over is looked at in the first weeks, or never. */
    private static final Duration KEPT = Duration.ofDays(90);

    /** A season and the one before. */
    private static final Duration KEPT_DRILLS = Duration.ofDays(800);

    private static final int SLICE = 1000;

    private final HistoryStore store;

    StoredNotices(HistoryStore store) {
        this.store = store;
    }

    @Override
    public Set<DeliveryKey> add(Collection<Addition> additions) throws StoreException {
        return store.write(
                connection -> {
                    Set<DeliveryKey> added = new LinkedHashSet<>();
                    for (Addition addition : additions) {
                        long id = noticeId(connection, addition.notice());
                        for (PendingDelivery delivery : addition.deliveries()) {
                            if (insert(connection, id, delivery)) {
                                added.add(delivery.key());
                            }
                        }
                    }
                    return added;
                });
    }

    private static long noticeId(Connection connection, Notice notice) throws SQLException {
        try (PreparedStatement insert =
                connection.prepareStatement(
                        "INSERT INTO notice (notice_uuid, event, revision, at_millis, content)"
                                + " VALUES (?, ?, ?, ?, ?) ON CONFLICT DO NOTHING")) {
            insert.setString(1, notice.id().toString());
            insert.setString(2, notice.eventId());
            insert.setInt(3, notice.revision());
            insert.setLong(4, notice.at().toEpochMilli());
            insert.setString(5, NoticeJson.text(notice));
            insert.executeUpdate();
        }
        try (PreparedStatement select =
                connection.prepareStatement("SELECT id FROM notice WHERE notice_uuid = ?")) {
            select.setString(1, notice.id().toString());
            try (ResultSet rows = select.executeQuery()) {
                rows.next();
                return rows.getLong(1);
            }
        }
    }

    private static boolean insert(Connection connection, long noticeId, PendingDelivery delivery)
            throws SQLException {
        try (PreparedStatement insert =
                connection.prepareStatement(
                        "INSERT INTO notice_delivery (notice_id, person, channel, state, tries,"
                                + " added_millis, next_try_millis, words) VALUES (?, ?, ?, ?, ?, ?,"
                                + " ?, '') ON CONFLICT DO NOTHING")) {
            insert.setLong(1, noticeId);
            insert.setString(2, delivery.person());
            insert.setString(3, delivery.channel());
            insert.setString(4, DeliveryState.PENDING.word());
            insert.setInt(5, delivery.tries());
            insert.setLong(6, delivery.added().toEpochMilli());
            insert.setLong(7, delivery.nextTry().toEpochMilli());
            return insert.executeUpdate() == 1;
        }
    }

    @Override
    public List<PendingDelivery> pending() throws StoreException {
        return store.ask(
                "the notices",
                connection -> {
                    List<PendingDelivery> pending = new ArrayList<>();
                    try (PreparedStatement select =
                                    connection.prepareStatement(
                                            "SELECT content, person, channel, tries, added_millis,"
                                                    + " next_try_millis FROM notice_delivery JOIN"
                                                    + " notice ON notice.id = notice_id WHERE state"
                                                    + " = 'pending' ORDER BY notice_delivery.id");
                            ResultSet rows = select.executeQuery()) {
                        while (rows.next()) {
                            pending.add(
                                    new PendingDelivery(
                                            NoticeJson.parse(rows.getString(1)),
                                            rows.getString(2),
                                            rows.getString(3),
                                            rows.getInt(4),
                                            Instant.ofEpochMilli(rows.getLong(5)),
                                            Instant.ofEpochMilli(rows.getLong(6))));
                        }
                    }
                    return pending;
                });
    }

    @Override
    public void tried(DeliveryKey key, int tries, Instant nextTry, String words)
            throws StoreException {
        store.write(
                connection -> {
                    try (PreparedStatement update =
                            connection.prepareStatement(
                                    "UPDATE notice_delivery SET tries = ?, next_try_millis = ?,"
                                            + " words = ?"
                                            + ONE)) {
                        update.setInt(1, tries);
                        update.setLong(2, nextTry.toEpochMilli());
                        update.setString(3, words);
                        bind(update, 4, key);
                        return update.executeUpdate();
                    }
                });
    }

    @Override
    public void ended(Collection<Ending> endings) throws StoreException {
        store.write(
                connection -> {
                    try (PreparedStatement update =
                            connection.prepareStatement(
                                    "UPDATE notice_delivery SET state = ?, ended_millis = ?,"
                                            + " words = ?"
                                            + ONE)) {
                        for (Ending ending : endings) {
                            update.setString(1, ending.state().word());
                            update.setLong(2, ending.at().toEpochMilli());
                            update.setString(3, ending.words());
                            bind(update, 4, ending.key());
                            update.addBatch();
                        }
                        return update.executeBatch().length;
                    }
                });
    }

    private static final String ONE =
            " WHERE notice_id = (SELECT id FROM notice WHERE notice_uuid = ?) AND person = ? AND"
                    + " channel = ?";

    private static void bind(PreparedStatement statement, int from, DeliveryKey key)
            throws SQLException {
        statement.setString(from, key.notice().toString());
        statement.setString(from + 1, key.person());
        statement.setString(from + 2, key.channel());
    }

    @Override
    public List<Escalation.Stand> escalations() throws StoreException {
        return store.ask(
                "the notices",
                connection -> {
                    List<Escalation.Stand> stands = new ArrayList<>();
                    try (PreparedStatement select =
                                    connection.prepareStatement(
                                            "SELECT latest, round, told_this_round, ever_told,"
                                                    + " last_told_millis, is_acknowledged FROM"
                                                    + " notice_event ORDER BY last_told_millis, event");
                            ResultSet rows = select.executeQuery()) {
                        while (rows.next()) {
                            stands.add(
                                    new Escalation.Stand(
                                            NoticeJson.parse(rows.getString(1)),
                                            rows.getInt(2),
                                            names(rows.getString(3)),
                                            names(rows.getString(4)),
                                            Instant.ofEpochMilli(rows.getLong(5)),
                                            rows.getInt(6) != 0));
                        }
                    }
                    return stands;
                });
    }

    private static List<String> names(String text) {
        return text.isEmpty() ? List.of() : List.of(text.split(BETWEEN_NAMES, -1));
    }

    @Override
    public void keep(Collection<Escalation.Stand> stands) throws StoreException {
        store.write(
                connection -> {
                    try (PreparedStatement insert =
                            connection.prepareStatement(
                                    "INSERT INTO notice_event (event, latest, round,"
                                            + " told_this_round, ever_told, last_told_millis,"
                                            + " is_acknowledged) VALUES (?, ?, ?, ?, ?, ?, ?)")) {
                        for (Escalation.Stand stand : stands) {
                            delete(connection, stand.eventId());
                            insert.setString(1, stand.eventId());
                            insert.setString(2, NoticeJson.text(stand.latest()));
                            insert.setInt(3, stand.round());
                            insert.setString(4, String.join(BETWEEN_NAMES, stand.toldThisRound()));
                            insert.setString(5, String.join(BETWEEN_NAMES, stand.everTold()));
                            insert.setLong(6, stand.lastToldAt().toEpochMilli());
                            insert.setInt(7, stand.isAcknowledged() ? 1 : 0);
                            insert.addBatch();
                        }
                        return insert.executeBatch().length;
                    }
                });
    }

    @Override
    public void forget(String eventId, Instant at) throws StoreException {
        store.write(
                connection -> {
                    try (PreparedStatement update =
                            connection.prepareStatement(
                                    "UPDATE notice_link SET event_ended_millis = ? WHERE event = ?"
                                            + " AND event_ended_millis IS NULL")) {
                        update.setLong(1, at.toEpochMilli());
                        update.setString(2, eventId);
                        update.executeUpdate();
                    }
                    return delete(connection, eventId);
                });
    }

    @Override
    public int lastRevision(String eventId) throws StoreException {
        return store.ask(
                "the notices",
                connection -> {
                    try (PreparedStatement select =
                            connection.prepareStatement(
                                    "SELECT coalesce(max(revision), 0) FROM notice WHERE event ="
                                            + " ?")) {
                        select.setString(1, eventId);
                        try (ResultSet rows = select.executeQuery()) {
                            rows.next();
                            return rows.getInt(1);
                        }
                    }
                });
    }

    @Override
    public void keep(AnswerLink link) throws StoreException {
        store.write(
                connection -> {
                    noticeId(connection, link.notice());
                    try (PreparedStatement insert =
                            connection.prepareStatement(
                                    "INSERT INTO notice_link (token_sha256, notice_uuid, event,"
                                            + " person, made_millis, event_ended_millis) VALUES (?,"
                                            + " ?, ?, ?, ?, NULL) ON CONFLICT DO NOTHING")) {
                        insert.setString(1, link.tokenHash());
                        insert.setString(2, link.notice().id().toString());
                        insert.setString(3, link.notice().eventId());
                        insert.setString(4, link.person());
                        insert.setLong(5, link.made().toEpochMilli());
                        return insert.executeUpdate();
                    }
                });
    }

    @Override
    public Optional<AnswerLink> link(String tokenHash) throws StoreException {
        return store.ask(
                "the notices",
                connection -> {
                    try (PreparedStatement select =
                            connection.prepareStatement(
                                    "SELECT content, person, made_millis, event_ended_millis FROM"
                                            + " notice_link JOIN notice ON notice.notice_uuid ="
                                            + " notice_link.notice_uuid WHERE token_sha256 = ?")) {
                        select.setString(1, tokenHash);
                        try (ResultSet rows = select.executeQuery()) {
                            return rows.next()
                                    ? Optional.of(link(tokenHash, rows))
                                    : Optional.empty();
                        }
                    }
                });
    }

    private static AnswerLink link(String tokenHash, ResultSet row) throws SQLException {
        return new AnswerLink(
                tokenHash,
                NoticeJson.parse(row.getString(1)),
                row.getString(2),
                Instant.ofEpochMilli(row.getLong(3)),
                StoredDrills.number(row, 4).map(Instant::ofEpochMilli));
    }

    private static int delete(Connection connection, String eventId) throws SQLException {
        try (PreparedStatement delete =
                connection.prepareStatement("DELETE FROM notice_event WHERE event = ?")) {
            delete.setString(1, eventId);
            return delete.executeUpdate();
        }
    }

    /**
     * Removes what is over: notices and deliveries of events that are, links that have ended, old
     * drills. A slice of it.
     *
     * @return how many rows were removed
     */
    static long forgetOld(Connection connection, Instant now) throws SQLException {
        long millis = now.toEpochMilli();
        long noticesBefore = now.minus(KEPT).toEpochMilli();
        update(
                connection,
                "UPDATE notice_link SET event_ended_millis = ? WHERE event_ended_millis IS NULL AND"
                        + " event NOT IN (SELECT event FROM notice_event)",
                millis);
        long removed =
                update(
                        connection,
                        "DELETE FROM notice_link WHERE event_ended_millis < ?",
                        now.minus(AnswerLinks.AFTER_END).toEpochMilli());
        String old =
                "SELECT id FROM notice WHERE at_millis < ? AND event NOT IN (SELECT event FROM"
                        + " notice_event) AND NOT EXISTS (SELECT 1 FROM notice_link WHERE"
                        + " notice_link.notice_uuid = notice.notice_uuid) AND NOT EXISTS (SELECT 1"
                        + " FROM notice_delivery WHERE notice_delivery.notice_id = notice.id AND"
                        + " state = 'pending') ORDER BY id LIMIT "
                        + SLICE;
        removed +=
                update(
                        connection,
                        "DELETE FROM notice_delivery WHERE notice_id IN (" + old + ")",
                        noticesBefore);
        removed +=
                update(connection, "DELETE FROM notice WHERE id IN (" + old + ")", noticesBefore);
        return removed
                + update(
                        connection,
                        "DELETE FROM drill WHERE ended_millis < ?",
                        now.minus(KEPT_DRILLS).toEpochMilli());
    }

    private static long update(Connection connection, String sql, long millis) throws SQLException {
        try (PreparedStatement update = connection.prepareStatement(sql)) {
            update.setLong(1, millis);
            return update.executeUpdate();
        }
    }
}
