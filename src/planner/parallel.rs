//! Work that can be parted, on several threads.

use std::thread;

/// What some work gives for a list, the list parted among as many threads as there are: each takes
/// a run of it, and what they give is in its order. The number of threads changes nothing else.
///
/// # Panics
/// If the work does.
pub fn map_in_parallel<I: Sync, T: Send>(
    list: &[I],
    threads: usize,
    work: impl Fn(&[I]) -> Vec<T> + Sync,
) -> Vec<T> {
    if threads < 2 || list.len() < 2 {
        return work(list);
    }
    let share = list.len().div_ceil(threads.max(1)).max(1);
    let work = &work;
    thread::scope(|scope| {
        let parts = list.chunks(share);
        let workers: Vec<_> = parts.map(|part| scope.spawn(move || work(part))).collect();
        let given = workers
            .into_iter()
            .flat_map(|worker| worker.join().expect("a thread ends its part"));
        given.collect()
    })
}
