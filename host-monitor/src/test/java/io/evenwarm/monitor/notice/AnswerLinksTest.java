package io.evenwarm.monitor.notice;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.WallClock;
import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.HashSet;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;

/**
 * Links in notices: bound to one notice and one person, and good for no longer than their event.
 */
final class AnswerLinksTest {

    private static final String PAGE = "https://192.168.1.10:8443";

    private final MemoryNoticeStore store = new MemoryNoticeStore();
    private Instant wall = Notices.NIGHT;
    private final AnswerLinks links = links("0123456789abcdef");

    private AnswerLinks links(String key) {
        return new AnswerLinks(
                PAGE,
                new Secret(key),
                store,
                new WallClock() {
                    @Override
                    public Instant now() {
                        return wall;
                    }

                    @Override
                    public boolean isTrusted() {
                        return true;
                    }
                });
    }

    private static String token(Optional<String> link) {
        String text = link.orElseThrow();
        assertTrue(text.startsWith(PAGE + AnswerLinks.PATH), text);
        return text.substring((PAGE + AnswerLinks.PATH).length());
    }

    @Test
    void eachNoticeAndPersonHasAnotherLinkAndARepetitionTheSame() throws IOException {
        Set<String> tokens = new HashSet<>();
        for (String event : new String[] {"e1", "e2"}) {
            for (int revision = 1; revision <= 2; revision++) {
                for (String person : new String[] {"anna", "bert"}) {
                    Notice notice =
                            Notices.of(event, revision, NoticeKind.FOLLOW_UP, Notices.cold("a"));
                    String token = token(links.of(notice, person));
                    assertEquals(token, token(links.of(notice, person)));
                    assertNotEquals(token, token(links("another key").of(notice, person)));
                    AnswerLink found = links.find(token).orElseThrow();
                    assertEquals(person, found.person());
                    assertEquals(notice, found.notice());
                    assertTrue(tokens.add(token));
                }
            }
        }
        assertTrue(store.links.keySet().stream().noneMatch(tokens::contains), "kept as hashes");
    }

    @Test
    void aLinkEndsADayAfterItsEvent() throws IOException {
        String token = token(links.of(Notices.first("e1"), "anna"));
        String other = token(links.of(Notices.first("e2"), "anna"));
        wall = wall.plus(Duration.ofDays(60));
        store.forget("e1", wall);
        wall = wall.plus(AnswerLinks.AFTER_END).minusSeconds(1);
        assertTrue(links.find(token).isPresent());
        wall = wall.plusSeconds(1);
        assertEquals(Optional.empty(), links.find(token));
        assertTrue(links.find(other).isPresent(), "its event goes on");
    }

    @Test
    void whatIsNoLinkFindsNothingAndAnAllClearHasNone() throws IOException {
        for (String no :
                new String[] {"", "x", "x".repeat(43), "é".repeat(43), "../../etc/passwd"}) {
            assertEquals(Optional.empty(), links.find(no));
        }
        assertEquals(
                Optional.empty(),
                links.of(Notices.of("e1", 2, NoticeKind.ALL_CLEAR, Notices.cold("a")), "anna"));
        assertTrue(store.links.isEmpty());
    }

    @Test
    void aLinkIsGoodAlsoWhileTheStoreFails() throws IOException {
        store.isFull = true;
        String token = token(links.of(Notices.first("e1"), "anna"));
        assertEquals("anna", links.find(token).orElseThrow().person());
    }
}
