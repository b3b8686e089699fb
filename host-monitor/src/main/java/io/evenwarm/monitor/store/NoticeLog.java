package io.evenwarm.monitor.store;

import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.notice.DeliveryState;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeJson;
import io.evenwarm.monitor.notice.NoticeSent;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/** The notices as seen from outside, on a connection that is lent to it. */
final class NoticeLog {

    private final Connection connection;

    NoticeLog(Connection connection) {
        this.connection = connection;
    }

    /**
     * Deliveries of what was written in a span, the oldest first.
     *
     * @param subjects of whose facts a notice must name one
     */
    List<NoticeSent> sent(Set<String> subjects, TimeSpan span) throws SQLException {
        List<NoticeSent> sent = new ArrayList<>();
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT content, person, channel, state, ended_millis, words FROM"
                                + " notice_delivery JOIN notice ON notice.id = notice_id WHERE"
                                + " at_millis >= ? AND at_millis < ? ORDER BY at_millis,"
                                + " notice_delivery.id")) {
            select.setLong(1, span.from().toEpochMilli());
            select.setLong(2, span.to().toEpochMilli());
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    Notice notice = NoticeJson.parse(rows.getString(1));
                    if (notice.cabinets().stream()
                            .anyMatch(facts -> subjects.contains(facts.cabinet()))) {
                        sent.add(sent(notice, rows));
                    }
                }
            }
        }
        return sent;
    }

    private static NoticeSent sent(Notice notice, ResultSet row) throws SQLException {
        Optional<Instant> ended = Optional.of(Instant.ofEpochMilli(row.getLong(5)));
        if (row.wasNull()) {
            ended = Optional.empty();
        }
        return new NoticeSent(
                notice.at(),
                notice.kind(),
                notice.priority(),
                notice.subject(),
                row.getString(2),
                row.getString(3),
                DeliveryState.valueOf(row.getString(4).toUpperCase(Locale.ROOT)),
                ended,
                row.getString(6));
    }
}
