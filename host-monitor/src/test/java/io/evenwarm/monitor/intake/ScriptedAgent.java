package io.evenwarm.monitor.intake;

import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.MemoryLinks;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Message;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Function;
import java.util.function.IntSupplier;
import org.jspecify.annotations.Nullable;

/**
 * An agent by the book of the protocol, with verbs for the test's hand: it can break the link after
 * so many messages, keep silent, or answer commands in its own way. One thread a link.
 */
final class ScriptedAgent implements LinkOpener {

    private final List<JournalRecord> records = new ArrayList<>();
    private final CopyOnWriteArrayList<Message> heard = new CopyOnWriteArrayList<>();
    private final AtomicInteger links = new AtomicInteger();
    private volatile String journal = "j1";
    private volatile Function<Message.Hello, List<Message.Hello>> hellos =
            asked ->
                    List.of(
                            new Message.Hello(
                                    List.of(1), Message.Hello.Side.AGENT, "egg room", "test", 1));
    private volatile Optional<CommandOutcome> answer =
            Optional.of(new CommandOutcome.Done("as you wish"));
    private volatile boolean isSilent;
    private volatile boolean isLosingBatches;
    private volatile boolean isRefusing;
    private volatile IntSupplier messagesUntilBreak = () -> Integer.MAX_VALUE;
    private volatile @Nullable Link current;

    synchronized ScriptedAgent journal(String name, List<JournalRecord> content) {
        journal = name;
        records.clear();
        records.addAll(content);
        return this;
    }

    synchronized void add(List<JournalRecord> more) {
        records.addAll(more);
    }

    /** The oldest ones are not kept any more. */
    synchronized void prune(long upTo) {
        records.removeIf(record -> record.sequence() <= upTo);
    }

    ScriptedAgent hello(Message.Hello other) {
        hellos = asked -> List.of(other);
        return this;
    }

    /** What it says, in order, to a monitor's hello. */
    ScriptedAgent hellos(Function<Message.Hello, List<Message.Hello>> answers) {
        hellos = answers;
        return this;
    }

    ScriptedAgent answers(Optional<CommandOutcome> outcome) {
        answer = outcome;
        return this;
    }

    ScriptedAgent silent(boolean silent) {
        isSilent = silent;
        return this;
    }

    /** What it sends for a request gets lost on the way. */
    ScriptedAgent losingBatches(boolean losing) {
        isLosingBatches = losing;
        return this;
    }

    ScriptedAgent refusing(boolean refusing) {
        isRefusing = refusing;
        return this;
    }

    ScriptedAgent breaksAfter(IntSupplier messages) {
        messagesUntilBreak = messages;
        return this;
    }

    /** Everything that monitors said, over all links. */
    List<Message> heard() {
        return heard;
    }

    int links() {
        return links.get();
    }

    void say(Message message) throws LinkException {
        Link link = current;
        if (link != null) {
            link.send(message);
        }
    }

    void breakLink() {
        Link link = current;
        if (link != null) {
            link.close();
        }
    }

    @Override
    public Link open() throws LinkException {
        if (isRefusing) {
            throw new LinkException("connection refused");
        }
        links.incrementAndGet();
        MemoryLinks.Pair pair = MemoryLinks.pair();
        current = pair.right();
        Thread thread = new Thread(() -> serve(pair.right()), "scripted agent");
        thread.setDaemon(true);
        thread.start();
        return pair.left();
    }

    private void serve(Link link) {
        int left = messagesUntilBreak.getAsInt();
        try (link) {
            for (; left > 0; left--) {
                Optional<Message> message = link.receive(Duration.ofSeconds(60));
                if (message.isEmpty()) {
                    return;
                }
                heard.add(message.get());
                if (!isSilent) {
                    react(link, message.get());
                }
            }
        } catch (LinkException lost) {
            // The monitor closed it, or the test did: the next open() makes another.
            return;
        }
    }

    private void react(Link link, Message message) throws LinkException {
        if (message instanceof Message.Hello asked) {
            for (Message.Hello each : hellos.apply(asked)) {
                link.send(each);
            }
        } else if (message instanceof Message.HistoryRequest request) {
            if (!isLosingBatches) {
                link.send(batch(request.afterSequence()));
            }
        } else if (message instanceof Message.Acknowledge acknowledge) {
            Message.HistoryBatch next = batch(acknowledge.sequence());
            if (!next.records().isEmpty()) {
                link.send(next);
            }
        } else if (message instanceof Message.CommandRequest request && answer.isPresent()) {
            link.send(new Message.CommandAnswer(request.id(), answer.get()));
        }
    }

    private synchronized Message.HistoryBatch batch(long after) {
        return new Message.HistoryBatch(
                journal,
                records.stream()
                        .filter(record -> record.sequence() > after)
                        .limit(Message.HistoryBatch.MAX_RECORDS)
                        .toList());
    }
}
